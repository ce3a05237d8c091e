using System.Globalization;
using System.Text;

namespace DecayAtlas.Prediction;

/// <summary>The model card for people.</summary>
internal static class ModelCardMarkdown
{
    public static string Of(ModelCard card)
    {
        var text = new StringBuilder();
        void Line(FormattableString? line = null) => text.Append(line?.ToString(CultureInfo.InvariantCulture)).Append('\n');
        var best = card.WinnerScore();
        var mean = card.BaselineScore();

        Line($"# Model card: decay rate from {Listed(card.Covariates.Select(c => c.Title))}");
        Line();
        Line($"Model `{card.ModelId}`, trained on release `{card.ReleaseId}` of the atlas by DecayAtlas {card.CodeVersion}.");
        Line();
        Line($"## In short");
        Line();
        Line($"**{best.Title}** predicts the natural logarithm of the decay rate k (per day) of the standard litters. On spatial blocks it had never seen, its error (RMSE) is **{best.Blocked.Pooled.Rmse:0.000}** in ln k: k is typically off by a factor of {Math.Exp(best.Blocked.Pooled.Rmse):0.00}. It explains {Share(best.Blocked.Pooled.R2)} of the variance there.");
        Line();
        if (card.BeatsBaseline)
            Line($"Predicting the training mean everywhere gives an RMSE of {mean.Blocked.Pooled.Rmse:0.000}; the model lowers that by {1 - best.Blocked.Pooled.Rmse / mean.Blocked.Pooled.Rmse:0 %}.");
        else
            Line($"**The model does not beat the training mean** (RMSE {mean.Blocked.Pooled.Rmse:0.000} on the same blocks). Do not map it; these covariates do not explain decay at unseen places.");
        Line();
        Line($"A prediction is exp(ln k): near the median rate of such places, a little below their arithmetic mean.");
        Line();
        Line($"## Scores");
        Line();
        Line($"| Candidate | Blocked RMSE | MAE | R² | Bias | Random RMSE | MAE | R² | Bias |");
        Line($"| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        foreach (var s in card.Scores)
            Line($"| {(s.Name == card.Winner ? $"**{s.Title}**" : s.Title)} | {Cells(s.Blocked.Pooled)} | {Cells(s.Random.Pooled)} |");
        Line();
        Line($"**Believe the blocked score.** It holds out whole blocks of {card.Options.BlockDegrees:0.###}° by {card.Options.BlockDegrees:0.###}° ({card.BlocksUsed} blocks with sites, {card.Options.Folds} folds), so it asks what a map is asked: how good is the model where no site is near? Random folds hold out single sites whose neighbours stay in training; they usually flatter a model and stand here only to show by how much.");
        Line();
        Line($"All numbers are in ln k over {best.Blocked.Pooled.Rows} held-out rows, each counted once. RMSE = sqrt(mean (p − y)²). MAE = mean |p − y|. R² = 1 − Σ(p − y)² / Σ(y − ȳ)², ȳ the mean of the held-out observations (the training mean can therefore score a little below 0). Bias = mean (p − y). The candidate was chosen by the blocked score, so that score is slightly optimistic too.");
        Line();
        Line($"## What it was trained on");
        Line();
        Line($"- {card.Rows} rows (one a site and campaign), {card.Sites} sites, {Count(card.Campaigns, "campaign")}; {Count(card.RowsLeftOut, "row")} left out because a covariate is missing.");
        Line($"- Buried from {Date(card.FirstBuriedOn)}, retrieved until {Date(card.LastRetrievedOn)}.");
        Line($"- Sites between {Degrees(card.SouthDegrees, 'N', 'S')} and {Degrees(card.NorthDegrees, 'N', 'S')}, {Degrees(card.WestDegrees, 'E', 'W')} and {Degrees(card.EastDegrees, 'E', 'W')}.");
        Line();
        Line($"| Covariate | Name | Unit | Training range | Importance (RMSE increase when shuffled) |");
        Line($"| --- | --- | --- | --- | ---: |");
        foreach (var i in card.Importance)
        {
            var c = card.Covariates.Single(x => x.Name == i.Covariate);
            Line($"| {c.Title} | `{c.Name}` | {c.Unit} | {c.TrainingMinimum:G4} to {c.TrainingMaximum:G4} | {Signed(i.RmseIncrease)} ± {i.StandardDeviation:0.000} |");
        }
        Line();
        Line($"Importance is measured on the held-out blocks ({card.Options.ImportanceRepeats} shuffles, mean ± standard deviation). Covariates that move together share their importance, so a low value does not prove that a covariate does not matter. Importance is no proof of cause.");
        Line();
        Line($"## What it must not be used for");
        Line();
        foreach (string use in card.NotFor)
            Line($"- {use}");
        Line();
        Line($"## To make it again");
        Line();
        var o = card.Options;
        Line($"Seed {o.Seed}, {o.Folds} folds, blocks of {o.BlockDegrees:0.###}°, {o.Trees} trees of at most {o.LeavesPerTree} leaves with at least {o.MinimumRowsPerLeaf} rows, learning rate {o.LearningRate} (boosted), ridge penalty {o.LinearL2} (linear), {o.ImportanceRepeats} shuffles. The model id is a hash of release, settings, training rows and code version; equal ids mean equal models.");
        return text.ToString();
    }

    private static string Count(int n, string what) => string.Create(CultureInfo.InvariantCulture, $"{n} {what}{(n == 1 ? "" : "s")}");

    private static string Cells(ErrorMetrics m) =>
        string.Create(CultureInfo.InvariantCulture, $"{m.Rmse:0.000} | {m.Mae:0.000} | {m.R2:0.00;-0.00;0.00} | {Signed(m.Bias)}").Replace('-', '−');

    private static string Signed(double value) => value.ToString("+0.000;−0.000;0.000", CultureInfo.InvariantCulture);

    private static string Share(double r2) => r2 > 0 ? r2.ToString("0 %", CultureInfo.InvariantCulture) : "none";

    private static string Date(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Degrees(double value, char positive, char negative) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(value):0.00}° {(value < 0 ? negative : positive)}");

    private static string Listed(IEnumerable<string> titles)
    {
        var lower = titles.ToList();
        return lower.Count switch
        {
            1 => lower[0],
            <= 3 => string.Join(", ", lower.SkipLast(1)) + " and " + lower[^1],
            _ => $"{lower.Count} covariates",
        };
    }
}
