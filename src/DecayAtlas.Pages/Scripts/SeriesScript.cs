namespace DecayAtlas.Pages.Scripts;

/// <summary>A series of retrievals as the panel of a site draws it.</summary>
internal static class SeriesScript
{
    public static object Of(SeriesFacts series) => new
    {
        campaign = series.Campaign,
        treatment = series.Treatment,
        retrievals = series.Retrievals,
        from = series.ShortestDays,
        to = series.LongestDays,
        twoBag = Script.Short(series.TwoBagRatePerDay),
        oneS = Script.Short(series.OneStabilisationP),
        points = series.Points.Select(p => new object?[] { p.Litter, p.Days, Script.Short(p.Remaining), p.IsFitted ? 1 : 0 }),
        curves = series.Curves.Select(c => new
        {
            litter = c.Litter,
            model = c.Model,
            chosen = c == series.ChosenOf(c.Litter),
            statement = c.Statement,
            k = Script.Short(c.RatePerDay.Value),
            ku = Script.Short(c.RatePerDay.StandardError),
            k2 = Script.Short(c.SecondRatePerDay.Value),
            rest = Script.Short(c.Rest.Value),
            share = Script.Short(c.FasterShare.Value),
            aicc = Script.Short(c.Aicc),
            weight = Script.Short(c.Weight),
        }),
    };
}
