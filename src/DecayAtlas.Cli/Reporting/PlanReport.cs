using System.Globalization;

namespace DecayAtlas.Cli.Reporting;

/// <summary>A plan as a person reads it, and as a table.</summary>
internal static class PlanReport
{
    /// <param name="withoutNoted">What would be another without the noted records; missing for stated variances.</param>
    public static void Write(Screen screen, PlanRequest request, PlanAnswer plan, string? withoutNoted)
    {
        PlanVariances v = plan.Variances!;
        string what = request.Of.Scale();
        screen.Line($"Variances of {what} ({v.Source}): {string.Join(", ", NamedParts(v).Select(p => $"{p.Name} {Number(p.Part)}"))}; "
            + $"shared by a lot {v.LotError:0.000}, by a batch {v.BatchError:0.000} (standard uncertainties).");
        if (plan.Statement is { } statement)
        {
            screen.Line($"No plan: {statement}");
            return;
        }

        bool isOfOneSite = request.Comparison is null, hasCosts = request.Costs is not null;
        string effect = request.IsOfRate ? "least ratio" : "least difference",
            half = request.IsOfRate ? "site +-%" : "site +-S";
        (string Name, Func<PlanRow, string> Of)[] columns =
        [
            ("burials a plot", r => $"{r.Burials}"),
            ("plots", r => $"{r.Plots}"),
            ("campaigns", r => $"{r.Campaigns}"),
            .. isOfOneSite ? [] : new (string, Func<PlanRow, string>)[]
            {
                (request.Comparison == PlannedComparison.Between ? "sites a group" : "sites", r => $"{r.SitesPerGroup}"),
            },
            ("bags", r => $"{r.Bags}"),
            ("lost burials", r => $"{r.ExpectedLost:0}"),
            .. hasCosts ? [("cost", r => $"{r.Cost:0}")] : Array.Empty<(string, Func<PlanRow, string>)>(),
            .. isOfOneSite ? [] : new (string, Func<PlanRow, string>)[]
            {
                ("power", r => $"{r.Power:0.000}"),
                ("+-", r => r.PowerError is { } error ? $"{error:0.000}" : "formula"),
                (effect, r => r.SmallestEffect is { } least ? $"{least:0.000}" : "-"),
            },
            (half, r => Half(r.SiteHalfWidth)),
            ("over seasons", r => Half(r.SiteHalfWidthOverSeasons)),
        ];
        screen.Table([.. columns.Select(c => c.Name)], plan.Designs.Select(r => columns.Select(c => c.Of(r)).ToArray()));
        screen.Lines(plan.Sentences);
        if (withoutNoted is not null)
            screen.Line(withoutNoted);

        string Half(double value) => request.IsOfRate ? $"{value:0.0}" : $"{value:0.000}";
    }

    /// <summary>Writes the designs, one a row, numbers in full.</summary>
    public static void WriteCsv(string path, PlanRequest request, PlanAnswer plan)
    {
        string unit = request.IsOfRate ? "percent" : "s";
        (string Name, Func<PlanRow, object?> Of)[] columns =
        [
            ("design", r => r.Design), ("sites_per_group", r => r.SitesPerGroup), ("sites_in_all", r => r.SitesInAll),
            ("plots", r => r.Plots), ("burials_per_plot", r => r.Burials), ("campaigns", r => r.Campaigns),
            ("burials_in_all", r => r.BurialsInAll),
            ("bags", r => r.Bags), ("expected_lost_burials", r => r.ExpectedLost), ("cost", r => r.Cost), ("power", r => r.Power),
            ("power_standard_error", r => r.PowerError), ("power_by_formula", r => r.PowerByFormula), ("simulations", r => r.Simulations),
            (request.IsOfRate ? "smallest_ratio" : "smallest_difference", r => r.SmallestEffect),
            ($"site_half_width_{unit}", r => r.SiteHalfWidth), ($"site_half_width_over_seasons_{unit}", r => r.SiteHalfWidthOverSeasons),
        ];
        string[] lines =
        [
            string.Join(',', columns.Select(c => c.Name)),
            .. plan.Designs.Select(r => string.Join(',', columns.Select(c => Convert.ToString(c.Of(r), CultureInfo.InvariantCulture)))),
        ];
        string full = Path.GetFullPath(path);
        DurableFile.Guard(full, () => DurableFile.WriteText(full, string.Join('\n', lines) + "\n"));
    }

    private static IEnumerable<(string Name, VariancePart Part)> NamedParts(PlanVariances v) =>
    [
        ("site", v.Site), ("campaign", v.Campaign), ("campaign at site", v.CampaignAtSite), ("treatment at site", v.TreatmentAtSite),
        ("plot", v.Plot), ("burial", v.Burial),
    ];

    private static string Number(VariancePart part) => $"{part.Variance:0.#####}"
        + (part.IsUncertain ? $" ({part.Lower95:0.#####} to {part.Upper95:0.#####})" : "");
}
