using static DecayAtlas.Prediction.Cards.CardText;

namespace DecayAtlas.Prediction.Cards;

/// <summary>The model card for people.</summary>
internal static class ModelCardMarkdown
{
    public static string Of(ModelCard card)
    {
        CardText text = new();
        InShort(text, card);
        Scores(text, card);
        CardFindings.Write(text, card);
        Training(text, card);
        text.Paragraph($"## What it must not be used for");
        foreach (ExcludedUse use in card.NotFor)
            text.Line($"- {use.Sentence}");
        text.Line();
        ToMakeItAgain(text, card);
        return text.ToString();
    }

    private static void InShort(CardText text, ModelCard card)
    {
        CandidateScore given = card.WinnerScore();
        bool rate = card.Target == PredictionTarget.DecayRate;
        text.Paragraph($"# Model card: {(rate ? "decay rate k" : "stabilisation factor S")} from "
            + $"{Listed(card.Covariates.Select(c => c.Title))}");
        text.Paragraph($"Model `{card.ModelId}`, trained on release `{card.ReleaseId}` of the atlas by DecayAtlas {card.CodeVersion}.");
        text.Paragraph($"## In short");
        text.Paragraph($"**{card.Verdict}**");
        if (card.Support != Support.None)
        {
            text.Paragraph($"{given.Title} predicts "
                + $"{(rate ? "the natural logarithm of the decay rate k (per day)" : "the stabilisation factor S")} of the standard "
                + $"litters. On spatial blocks it had never seen, its error (RMSE) is **{Number(given.Blocked.Pooled.Rmse)}**"
                + $"{(rate ? $" in ln k: k is typically off by a factor of "
                + $"{Number(Math.Exp(given.Blocked.Pooled.Rmse), "0.00")}"
                : "")}. It explains {(given.Blocked.Pooled.R2 > 0 ? Share(given.Blocked.Pooled.R2)
                : "none")} of the variance there; the training mean alone has an RMSE of {Number(card.MeanScore().Blocked.Pooled.Rmse)}.");
        }
        if (card.Findings.WithoutNoted is { RmseWithout: { } withoutNoted } noted)
        {
            text.Paragraph($"Without the {Counted.Of(noted.Rows, "row")} that rest on noted burials the error is {Number(withoutNoted)} "
                + $"instead of {Number(noted.Rmse)}.");
        }

        if (rate)
            text.Paragraph($"A prediction is exp(ln k): the median rate of such places, a little below their arithmetic mean.");
        foreach (string note in card.Notes)
            text.Paragraph($"Note: {note}");
    }

    private static void Scores(CardText text, ModelCard card)
    {
        string unit = CardFigures.UnitOf(card);
        int rows = card.WinnerScore().Blocked.Pooled.Rows;
        text.Paragraph($"## Scores");
        text.Table("| Candidate | Setting | RMSE | MAE | R² | Bias | Concordance | Moran's I |",
            "| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |",
            card.Scores.Select(s => $"| {Title(card, s)} | {s.Setting} | {Cells(s.Blocked.Pooled)} | "
                + $"{(s.MoranI is { } i ? Number(i, "0.00") : "–")} |"));
        foreach (LeftOutCandidate left in card.LeftOut)
            text.Paragraph($"Left out: {left.Title}. {left.Reason}");
        text.Paragraph($"**These are the numbers to believe**: {unit} on whole blocks of {card.Options.BlockDegrees:0.###}° by "
            + $"{card.Options.BlockDegrees:0.###}° held out ({card.BlocksUsed} blocks with sites, {card.Options.Folds} folds), so they "
            + "ask what a map is asked: how good is the model where no site is near? Each fold's setting was searched within the other "
            + "folds (nested), so what is scored chose nothing; the setting shown was chosen on all rows. The lowest of several scores "
            + "is still a little lucky.");
        text.Paragraph($"The same candidates, held out in four ways (RMSE, R²):");
        text.Table("| Candidate | Blocks | Random sites | One campaign | One ecosystem |", "| --- | ---: | ---: | ---: | ---: |",
            card.Scores
                .Select(s => $"| {Title(card, s)} | {Both(s.Blocked)} | {Both(s.Random)} | {Both(s.Campaign)} | {Both(s.Ecosystem)} |"));
        text.Paragraph($"Random sites leave their neighbours in training and usually flatter; they stand here to show by how much. One "
            + "campaign asks for another season, one ecosystem for another kind of place. These three use the setting chosen on all "
            + "rows. A site never stands on both sides, in none of the four.");
        text.Paragraph($"All numbers are over {rows} held-out rows, each counted once. RMSE = sqrt(mean (p − y)²). MAE = mean |p − y|. "
            + "R² = 1 − Σ(p − y)² / Σ(y − ȳ)², ȳ the mean of the held-out observations (the training mean can therefore score a little "
            + "below 0). Bias = mean (p − y). Concordance: Lin 1989, 1 only where p = y. Moran's I: how far "
            + "neighbouring sites err alike, about 0 where they do not.");
        text.Paragraph($"Is the difference beyond noise? Squared errors, paired row by row, summed by block ({card.BlocksUsed} blocks, "
            + "taken as independent). The question has one side, so a difference counts when the whole 90 % interval lies above 0, "
            + "which chance brings in 5 % of cases:");
        text.Table("| Better | than | Fall of mean squared error | 90 % interval | Beyond noise |", "| --- | --- | ---: | ---: | --- |",
            card.Comparisons
                .Select(c => $"| {c.Better} | {c.Than} | {Number(c.Gain, "0.0000")} | {Number(c.Lower90, "0.0000")} to "
                + $"{Number(c.Upper90, "0.0000")} | {(c.IsBeyondNoise ? "yes" : "no")} |"));
    }

    private static void Training(CardText text, ModelCard card)
    {
        TrainingSummary t = card.Training;
        text.Paragraph($"## What it was trained on");
        text.Line($"- {t.Rows} rows (one a site and campaign), {t.Sites} sites, {Counted.Of(t.Campaigns, "campaign")}, "
            + $"{Counted.Of(t.Ecosystems, "ecosystem")}.");
        string missing = t.Missing.Count == 0 ? "" : ": " + string.Join(", ", t.Missing.Select(m => $"`{m.Covariate}` {m.Rows}"));
        text.Line($"- {Counted.Of(t.RowsLeftOut, "row")} left out because a covariate is missing{missing}. "
            + "Covariates of sensitive sites are withheld, so such sites never train a model.");
        if (t.NotPositiveBurials + t.BurialsAtPlateau > 0)
        {
            text.Line($"- Left out: {Counted.Of(t.NotPositiveBurials, "burial")} with k of 0 or below, and "
                + $"{Counted.Of(t.BurialsAtPlateau, "burial")} whose slow litter is at its plateau, so that k is large but no number. Rows "
                + "without them lie a little low where many are at the plateau.");
        }

        text.Line($"- Buried from {Date(t.FirstBuriedOn)}, retrieved until {Date(t.LastRetrievedOn)}.");
        text.Line($"- Sites between {Degrees(t.SouthDegrees, 'N', 'S')} and {Degrees(t.NorthDegrees, 'N', 'S')}, "
            + $"{Degrees(t.WestDegrees, 'E', 'W')} and {Degrees(t.EastDegrees, 'E', 'W')}.");
        text.Line($"- Rows weigh by the certainty of their mean: {t.SmallestWeight:0.00} to {t.LargestWeight:0.00} times the mean "
            + $"weight, worth {t.EffectiveRows:0} rows of equal weight.");
        text.Line();
        text.Table("| Covariate | Name | Unit | Training range | Variance inflation |", "| --- | --- | --- | --- | ---: |",
            card.Covariates
                .Select((c,
                    i) => $"| {c.Title} | `{c.Name}` | {c.Unit} | {RangeOf(c)} | "
                    + $"{(card.Collinearity.Inflation[i].Factor is { } factor ? Number(factor, "0.0") : "determined by the others")} |"));
        Classes(text, card);
        if (card.Collinearity.Pairs.Count > 0)
        {
            text.Paragraph($"These move together (|r| above {Collinearity.Limit}), so their importances and effects cannot be told "
                + $"apart with confidence: "
                + $"{string.Join("; ", card.Collinearity.Pairs.Select(p => $"`{p.First}` and `{p.Second}` (r = "
                + $"{Number(p.Correlation, "0.00")})"))}.");
        }
        else
        {
            text.Paragraph($"No two covariates move together with |r| above {Collinearity.Limit}.");
        }
    }

    private static string RangeOf(CardCovariate c) => c.Classes is { } classes
        ? string.Join(", ", classes.Names.Zip(classes.Rows, (name, rows) => $"{name} ({rows})"))
        : Invariant($"{c.TrainingMinimum:G4} to {c.TrainingMaximum:G4}");

    private static void Classes(CardText text, ModelCard card)
    {
        if (card.Covariates.All(c => c.Classes is null))
            return;
        text.Paragraph($"Behind a class stand its rows. A class is learnt as one column for each of its classes, 1 where it is there "
            + "and else 0, none of them left out. A place of a class that is not listed has no prediction, since no row tells what it "
            + "does.");
        if (card.Training.RareClasses.Count > 0)
        {
            text.Paragraph($"With fewer than {CovariateClasses.FewestRows} rows or in fewer than {CovariateClasses.FewestBlocks} blocks: "
                + string.Join("; ", card.Training.RareClasses.Select(r => $"{r.Class} of `{r.Covariate}` ({Counted.Of(r.Rows, "row")}, "
                    + (r.IsJoined ? $"joined to {CovariateClasses.Other})" : "left out)"))) + ".");
        }

        foreach (CardCovariate c in card.Covariates.Where(c => c.IsStated))
        {
            text.Paragraph($"`{c.Name}` is what sites state, which no grid tells by itself: rows that state nothing are left out, "
                + "since a class \"not stated\" would say who fills in sheets and nothing of a place; a map is made as if it were one "
                + "class everywhere, or from a class grid that the configuration names.");
        }
    }

    private static void ToMakeItAgain(CardText text, ModelCard card)
    {
        TrainingOptions o = card.Options;
        text.Paragraph($"## To make it again");
        text.Paragraph($"Seed {o.Seed}, {o.Folds} folds, blocks of {o.BlockDegrees:0.###}°, {o.Trees} trees, {o.SettingsTried} "
            + $"settings tried a candidate in {o.InnerFolds} inner folds, {o.ImportanceRepeats} shuffles, {o.Members} members, intervals "
            + $"of {Share(o.IntervalLevel)}. The model id is a hash of release, settings, training rows and code version; equal ids mean "
            + "equal models. `held-out.csv` has every held-out prediction, `card.json` every number of this page"
            + (card.Features.Count == card.Covariates.Count ? "." : " and, under `features`, the columns that the ONNX graph takes, in "
            + "order."));
    }

    private static string Title(ModelCard card, CandidateScore s) => s.Name == card.Winner ? $"**{s.Title}**" : s.Title;

    private static string Cells(ErrorMetrics m) =>
        $"{Number(m.Rmse)} | {Number(m.Mae)} | {Number(m.R2, "0.00")} | {Signed(m.Bias)} | {Number(m.Concordance, "0.00")}";

    private static string Both(ValidationScore? score) => score is null ? "–"
        : $"{Number(score.Pooled.Rmse)}, {Number(score.Pooled.R2, "0.00")}";

    private static string Listed(IEnumerable<string> titles)
    {
        List<string> all = titles.ToList();
        return all.Count switch
        {
            1 => all[0],
            <= 3 => string.Join(", ", all.SkipLast(1)) + " and " + all[^1],
            _ => Invariant($"{all.Count} covariates"),
        };
    }
}
