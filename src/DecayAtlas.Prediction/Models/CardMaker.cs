using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Prediction;

/// <summary>Fills a model card from what was trained.</summary>
internal static class CardMaker
{
    private static readonly string[] NotFor =
    [
        "Regulation, permits or enforcement: a modelled rate is no measurement of any one place.",
        "Fertiliser or manure decisions: the litters are standard materials, not crop residues or soil organic matter.",
        "Carbon credits or carbon accounting: decay of a standard litter over months says nothing about carbon stored over decades.",
        "Places whose covariates lie outside the training ranges, or seasons and years unlike the ones trained on.",
        "Decisions about one field, garden or plot: the grids are far coarser than the differences within a site.",
    ];

    public static ModelCard Make(
        TrainingSet set,
        CovariateTable table,
        TrainingOptions options,
        int blocks,
        string winner,
        IReadOnlyList<CandidateScore> scores,
        IReadOnlyList<CovariateImportance> importance,
        ApplicabilitySummary applicability,
        PredictionInterval interval)
    {
        double RmseOf(string name) => scores.Single(s => s.Name == name).Blocked.Pooled.Rmse;
        return new(
            ModelCard.CurrentVersion,
            IdOf(set, table, options),
            CodeVersion,
            set.ReleaseId,
            "ln k, natural logarithm of the decay rate; exp(prediction) is a rate k",
            "d-1",
            winner,
            RmseOf(winner) < RmseOf(ModelCard.BaselineName),
            scores,
            blocks,
            importance.OrderByDescending(i => i.RmseIncrease).ThenBy(i => i.Covariate, StringComparer.Ordinal).ToList(),
            applicability,
            interval,
            set.Covariates.Select((c, i) => new CardCovariate(
                c.Name, c.Unit, c.Title, table.Rows.Min(r => r.Covariates[i]), table.Rows.Max(r => r.Covariates[i]))).ToList(),
            table.Count,
            set.RowsLeftOut,
            table.Rows.Select(r => r.SiteKey).Distinct(StringComparer.Ordinal).Count(),
            table.Rows.Select(r => r.Campaign).Distinct(StringComparer.Ordinal).Count(),
            table.Rows.Min(r => r.FirstBuriedOn),
            table.Rows.Max(r => r.LastRetrievedOn),
            table.Rows.Min(r => r.LongitudeDegrees),
            table.Rows.Min(r => r.LatitudeDegrees),
            table.Rows.Max(r => r.LongitudeDegrees),
            table.Rows.Max(r => r.LatitudeDegrees),
            options,
            NotFor);
    }

    /// <summary>The assembly version, not the informational one: that carries the commit and would differ between a clone and an archive of the same code.</summary>
    internal static string CodeVersion { get; } = typeof(CardMaker).Assembly.GetName().Version!.ToString(3);

    /// <summary>
    /// "m-" and the first 16 hex digits of the SHA-256 of a plain text that lists code version, release, options, covariates
    /// and rows in canonical order, numbers in their shortest round-trip form.
    /// </summary>
    internal static string IdOf(TrainingSet set, CovariateTable table, TrainingOptions options)
    {
        var text = new StringBuilder();
        void Line(params object[] parts) => text.AppendJoin('\t', parts.Select(p => Convert.ToString(p, CultureInfo.InvariantCulture))).Append('\n');
        Line("code", CodeVersion);
        Line("release", set.ReleaseId, set.RowsLeftOut);
        Line("options", JsonSerializer.Serialize(options));
        foreach (var c in set.Covariates)
            Line("covariate", c.Name, c.Unit, c.Title);
        foreach (var r in table.Rows)
            Line(["row", r.SiteKey, r.Campaign, r.LatitudeDegrees, r.LongitudeDegrees, r.LnRatePerDay, r.Weight,
                r.FirstBuriedOn.ToString("O", CultureInfo.InvariantCulture), r.LastRetrievedOn.ToString("O", CultureInfo.InvariantCulture),
                .. r.Covariates.Cast<object>()]);
        return "m-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..16];
    }
}
