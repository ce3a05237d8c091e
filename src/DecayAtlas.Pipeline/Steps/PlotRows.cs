namespace DecayAtlas.Pipeline.Steps;

/// <summary>Accepted burials, those set aside for their plateau alone, and results -> the rows that answers are made from: ln k and S by
/// plot, and the errors they share.</summary>
internal sealed record PlotRows(IReadOnlyList<ReleasedPlot> Plots, IReadOnlyList<ReleasedSharedError> SharedErrors)
{
    public static PlotRows Of(IReadOnlyList<Burial> burials, IReadOnlyList<SentResult> results, Verdicts verdicts)
    {
        List<ReleasedPlot> plots = new();
        List<ReleasedSharedError> errors = new();
        foreach (IGrouping<SeriesKey, Burial> series in burials
            .Where(b => b.StabilisationFactor.Value is not null && IsTaken(verdicts.Of(b), b)).GroupBy(SeriesKey.Of))
        {
            Dictionary<string, KnownErrors> known = ErrorsOf([.. series]);
            plots.AddRange(ReleasedPlot.Of(series.Select(RowOf), b => known[b.ErrorSet]));
            errors.AddRange(known.SelectMany(k => RowsOf(series.Key, EvidenceKind.Weighed, k.Key, k.Value)));
        }

        foreach (IGrouping<(SeriesKey Series, EvidenceKind Evidence, SharedKeys Shared), SentResult> rows in results
            .Where(r => verdicts.Of(r).Use == Use.Accepted && (r.Index.LnRate.Value is not null || r.Index.Stabilisation.Value is not null))
            .GroupBy(r => (SeriesKey.Of(r), r.Row.Evidence, r.Shared)))
        {
            plots.Add(PlotOf(rows.Key, [.. rows]));
            errors.AddRange(RowsOf(rows.Key.Series, rows.Key.Evidence, rows.Key.Shared.ErrorSet, ErrorsOf(rows.Key.Shared, [.. rows])));
        }

        return new PlotRows(
            [
                .. plots.OrderBy(p => p.SiteKey, StringComparer.Ordinal).ThenBy(p => p.Campaign, StringComparer.Ordinal)
                    .ThenBy(p => p.Treatment, StringComparer.Ordinal).ThenBy(p => p.Plot, StringComparer.Ordinal)
                    .ThenByDescending(p => p.Evidence, StringComparer.Ordinal).ThenBy(p => p.ErrorSet, StringComparer.Ordinal),
            ],
            [
                .. errors.OrderBy(e => e.SiteKey, StringComparer.Ordinal).ThenBy(e => e.Campaign, StringComparer.Ordinal)
                    .ThenBy(e => e.Treatment, StringComparer.Ordinal).ThenByDescending(e => e.Evidence, StringComparer.Ordinal)
                    .ThenBy(e => e.ErrorSet, StringComparer.Ordinal),
            ]);
    }

    // leaving out what is at its plateau and for nothing else would leave out the fastest
    private static bool IsTaken(Verdict verdict, Burial b) => verdict.Use == Use.Accepted
        || (SeriesUse.IsSetAsideAtPlateau(verdict.Because) && LnRateAtLeastOf(b) is not null);

    private static double? LnRateAtLeastOf(Burial b) =>
        b.IsAtPlateau && b.Weighed.RateInterval?.AtLeastPerDay is > 0 and { } least ? Math.Log(least) : null;

    private static PlotBurial RowOf(Burial b) => new(
        b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment, b.Lead.Row.Plot, $"{b.Header.ContributionId}/{b.BurialId}", b.Shared.ErrorSet,
        b.HasPositiveRate ? Math.Log(b.RatePerDay.Value!.Value) : null,
        LnRateAtLeastOf(b), b.StabilisationFactor.Value!.Value, b.ExposureDays);

    /// <summary>By set of shared errors.</summary>
    private static Dictionary<string, KnownErrors> ErrorsOf(Burial[] series)
    {
        Burial[] rated = [.. series.Where(b => b.HasPositiveRate)];
        double? rate = rated.Length == 0 ? null : Math.Exp(rated.Average(b => Math.Log(b.RatePerDay.Value!.Value)));
        return series.GroupBy(b => b.Shared.ErrorSet, StringComparer.Ordinal).ToDictionary(
            g => g.Key,
            g => KnownErrors.Of(
                [.. g.Select(b => new KnownBurial(b.StabilisationFactor.Value!, b.Shared, b.HasPositiveRate ? b.Rated : null))], rate),
            StringComparer.Ordinal);
    }

    // the scatter of n burials without their values: a mean without scatter counts as one
    private static ReleasedPlot PlotOf((SeriesKey Series, EvidenceKind Evidence, SharedKeys Shared) key, SentResult[] rows)
    {
        SampleSummary? lnRate = Pooled(r => r.Index.LnRate), s = Pooled(r => r.Index.Stabilisation);
        bool isOne = lnRate is { Sd: null } || s is { Sd: null } || (lnRate is not null && s is not null && lnRate.Count != s.Count);
        return new ReleasedPlot
        {
            SiteKey = key.Series.SiteKey,
            Campaign = key.Series.Campaign,
            Treatment = key.Series.Treatment,
            Evidence = AtlasCode.Of(key.Evidence),
            ErrorSet = key.Shared.ErrorSet,
            RateState = lnRate is null ? ReleasedPlot.None : ReleasedPlot.Known,
            LnRateBurials = lnRate is null ? 0 : isOne ? 1 : lnRate.Count,
            LnRateMean = lnRate?.Mean,
            LnRateSd = isOne ? null : lnRate?.Sd,
            StabilisationBurials = s is null ? 0 : isOne ? 1 : s.Count,
            StabilisationMean = s?.Mean,
            StabilisationSd = isOne ? null : s?.Sd,
            ExposureDaysMean = rows.All(r => r.Row.Exposure is not null)
                ? rows.Sum(r => r.Row.Burials * r.Row.Exposure) / rows.Sum(r => r.Row.Burials) : null,
        };

        SampleSummary? Pooled(Func<SentResult, Computed<MeanWithErrors>> value) =>
            PooledMeans.Of([.. rows.Where(r => value(r).Value is not null).Select(r => (value(r).Value!, r.Shared))])?.Summary;
    }

    // averaged with their signs, as the means are
    private static KnownErrors ErrorsOf(SharedKeys keys, SentResult[] rows)
    {
        return KnownErrors.OfMeans(keys, Mean(r => r.Index.LnRate), Mean(r => r.Index.Stabilisation));

        SharedErrors? Mean(Func<SentResult, Computed<MeanWithErrors>> value)
        {
            MeanWithErrors[] means = [.. rows.Select(r => value(r).Value).OfType<MeanWithErrors>()];
            double burials = means.Sum(m => m.Burials);
            SharedErrors[] parts = [.. means.Select(m => m.Burials / burials * (m.Shared ?? default))];
            return parts.Length == 0 ? null
                : new SharedErrors(
                    parts.Select(p => p.Fast).Aggregate((a, b) => a + b), parts.Select(p => p.Slow).Aggregate((a, b) => a + b));
        }
    }

    private static IEnumerable<ReleasedSharedError> RowsOf(SeriesKey series, EvidenceKind evidence, string errorSet, KnownErrors known) =>
        known.Shared.Select(e => new ReleasedSharedError
        {
            SiteKey = series.SiteKey,
            Campaign = series.Campaign,
            Treatment = series.Treatment,
            Evidence = AtlasCode.Of(evidence),
            ErrorSet = errorSet,
            SharedBy = AtlasCode.Of(e.Quantity.Source),
            SharedId = e.Quantity.Key,
            Quantity = AtlasCode.Of(e.Quantity.Name),
            OnLnRate = e.OnLnRate,
            OnStabilisation = e.OnStabilisation,
        });
}
