namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>The twelve sites of data/warmth.R, one burial each, no known errors.</summary>
/// <param name="of">What the numbers, as ln, are taken as.</param>
/// <param name="temperatures">In place of those of the file.</param>
/// <param name="setAside">Burials of the first sites that are set aside for their plateau.</param>
/// <param name="plots">In place of those of the file.</param>
internal sealed class ReleaseOfTwelveTemperatures(
    AskedOf of = AskedOf.Rate, double[]? temperatures = null, int[]? setAside = null, PlotBurial[]? plots = null) : IReleasedRows
{
    private static readonly double[] Temperatures = [2.1, 4.5, 6.3, 8.8, 10.2, 11.9, 13.4, 15.0, 17.7, 19.2, 21.5, 24.3],
        Moistures = [.31, .22, .4, .28, .18, .35, .26, .42, .2, .33, .15, .24],
        Rates = [0.00428, 0.00558, 0.00642, 0.00737, 0.00829, 0.00963, 0.00953, 0.01342, 0.01221, 0.0173, 0.01747, 0.02009];

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => table.Name switch
        {
            "sites" => Of<TRow, ReleasedSite>(Rates.Select((_, i) => new ReleasedSite
            {
                SiteKey = $"s{i:00}",
                ContributorId = "g",
                ContributionId = "g-1",
                IsGeneralised = false,
                Use = "accepted",
            })),
            "covariates" => Of<TRow, ReleasedCovariate>((temperatures ?? Temperatures).Zip(Moistures).SelectMany((c, i) => new[]
            {
                new ReleasedCovariate { SiteKey = $"s{i:00}", Covariate = "temperature", Value = c.First },
                new ReleasedCovariate { SiteKey = $"s{i:00}", Covariate = "moisture", Value = c.Second },
                new ReleasedCovariate { SiteKey = $"s{i:00}", Covariate = "kelvin", Value = c.First + 273.15, Unit = "K" },
                new ReleasedCovariate
                {
                    SiteKey = $"s{i:00}", Covariate = "cover", IsClass = true, Label = i % 2 == 0 ? "grass" : "crops",
                },
                new ReleasedCovariate { SiteKey = $"s{i:00}", Covariate = "soil_code", IsClass = true, Value = 1 + i % 3 },
            })),
            "site_campaigns" => Of<TRow, ReleasedSiteCampaign>((setAside ?? []).Select((burials, i) => new ReleasedSiteCampaign
            {
                SiteKey = $"s{i:00}",
                Campaign = "c",
                Burials = burials + 1,
                RateBurials = 1,
                RateNotPositiveBurials = 0,
                RateAtLeastBurials = 0,
                PlateauNotReachedBurials = burials,
                LnRateBurials = 1,
                StabilisationBurials = 1,
            })),
            "plots" => Of<TRow, ReleasedPlot>(ReleasedPlot.Of(
                plots ?? Rates.Select((k, i) => new PlotBurial(
                    $"s{i:00}", "c", null, null, $"{i}", "", of == AskedOf.Rate ? Math.Log(k) : null, null,
                    of == AskedOf.Rate ? null : Math.Log(k))), _ => null)),
            _ => [],
        };

    private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];
}
