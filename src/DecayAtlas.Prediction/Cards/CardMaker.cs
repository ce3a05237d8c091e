using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Prediction.Cards;

/// <summary>Fills a model card from what was trained.</summary>
internal static class CardMaker
{
    public static ModelCard Make(
        string id, TrainingSet set, CovariateTable table, TrainingOptions options, ValidationFolds folds, Tournament tournament,
        ModelFindings findings) => new(
        ModelCard.CurrentVersion,
        id,
        CodeVersion,
        set.ReleaseId,
        set.Target,
        set.Target == PredictionTarget.DecayRate ? "d-1" : "1",
        tournament.Chosen.Candidate.Name,
        tournament.Support,
        VerdictOf(tournament),
        tournament.BestLearned.Candidate.Name,
        [.. tournament.Entrants.Select(e => e.Score)],
        tournament.LeftOut,
        tournament.Comparisons,
        folds.Blocked.Groups,
        findings
        with
        {
            Importance = [.. findings.Importance.OrderByDescending(i => i.RmseIncrease)
            .ThenBy(i => i.Covariate, StringComparer.Ordinal)]
        },
        [.. set.Covariates.Select((c, i) => c.IsClass
            ? new CardCovariate(c.Name, c.Unit, c.Title, null, null) { Classes = c.Classes, IsStated = c.IsStated }
            : new CardCovariate(c.Name, c.Unit, c.Title, table.Rows.Min(r => r.Covariates[i]), table.Rows.Max(r => r.Covariates[i])))],
        Collinearity.Of(set.Covariates, table),
        TrainingSummary.Of(set, table),
        options,
        [.. tournament.Notes, .. NotesOn(table, folds), .. ClassesHeldOut.NotesOn(set.Covariates, table, folds.Blocked)],
        ExcludedUse.All);

    private static string VerdictOf(Tournament tournament)
    {
        string best = tournament.BestLearned.Candidate.Title;
        string? published = tournament.Entrants.FirstOrDefault(e => e.Candidate is WarmthMoistureCandidate)?.Candidate.Title;
        return tournament.Support switch
        {
            Support.Learned => $"Supported: on blocks never seen, \"{best}\" predicts better than the training "
                + $"mean{(published is null ? "" : $" and than \"{published}\"")}, beyond noise.",
            Support.Baseline => $"No learned model is supported: on blocks never seen, none predicts better than \"{published}\" "
                + "beyond noise. What is given is that published response, which does beat the training mean.",
            _ => "No model is supported: on blocks never seen, none predicts better than the training mean beyond noise. What is given "
                + "is that mean, the same everywhere.",
        };
    }

    private static IEnumerable<string> NotesOn(CovariateTable table, ValidationFolds folds)
    {
        if (table.Weights.All(w => w == table.Weights[0]))
            yield return "All rows weigh the same: the uncertainty of single sites does not steer the model.";
        if (folds.Campaign is null)
            yield return "No campaign could be held out: there is one only, or too few sites took part in one alone.";
        if (folds.Ecosystem is null)
            yield return "No ecosystem could be held out: fewer than two are stated, or one holds nearly all rows.";
    }

    /// <summary>The assembly version, not the informational one: that carries the commit and would differ between a clone and an archive of
    /// the same code.</summary>
    internal static string CodeVersion { get; } = typeof(CardMaker).Assembly.GetName().Version!.ToString(3);

    /// <summary>
    /// "m-" and the first 16 hex digits of the SHA-256 of a plain text that lists code and card version, release, options, covariates
    /// and rows in canonical order, numbers in their shortest round-trip form.
    /// </summary>
    internal static string IdOf(TrainingSet set, CovariateTable table, TrainingOptions options)
    {
        StringBuilder text = new();
        void Line(params object[] parts) =>
            text.AppendJoin('\t', parts.Select(p => Convert.ToString(p, CultureInfo.InvariantCulture))).Append('\n');
        Line("code", CodeVersion, ModelCard.CurrentVersion);
        Line("release", set.ReleaseId, set.RowsLeftOut, set.Target);
        Line("options", JsonSerializer.Serialize(options));
        // A machine that cannot run a candidate may choose another winner.
        Line("absent", LightGbmCandidate.WhyAbsent.Value is null ? "" : "lightgbm");
        foreach (MissingCovariate m in set.Missing)
            Line("missing", m.Covariate, m.Rows);
        foreach (CovariateInfo c in set.Covariates)
        {
            object[] ofClasses = c.Classes is { } classes ? [c.IsStated, .. classes.Names] : [];
            Line(["covariate", c.Name, c.Unit, c.Title, .. ofClasses]);
        }

        foreach (RareClass rare in set.RareClasses)
            Line("rare", rare.Covariate, rare.Class, rare.Rows, rare.IsJoined);
        foreach (TrainingRow r in table.Rows)
        {
            Line(["row", r.SiteKey, r.Campaign, r.LatitudeDegrees, r.LongitudeDegrees, r.Target, r.Weight, r.Ecosystem ?? "",
                r.FirstBuriedOn.ToString("O", CultureInfo.InvariantCulture), r.LastRetrievedOn.ToString("O", CultureInfo.InvariantCulture),
                .. r.Covariates.Cast<object>()]);
            Line(["errors", r.Errors.OwnVariance,
                .. r.Errors.Shared.OrderBy(e => e.Quantity, StringComparer.Ordinal)
                    .SelectMany(e => new object[] { e.Quantity, e.OnTarget, e.IsOfBatch, e.IsRange }),
                .. r.Errors.CovariateSds.Cast<object>()]);
        }

        // in the order of the rows above, so that the order in which rows arrive changes nothing
        foreach ((TrainingRow row, TrainingRow? left) in set.Rows.Zip(set.WithoutNoted ?? []).Where(x => x.First.Target != x.Second?.Target)
            .OrderBy(x => x.First.SiteKey, StringComparer.Ordinal).ThenBy(x => x.First.Campaign, StringComparer.Ordinal)
            .ThenBy(x => x.First.Target))
        {
            Line("without noted", row.SiteKey, row.Campaign, left?.Target ?? double.NaN, left?.Weight ?? double.NaN);
        }

        return "m-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..16];
    }
}
