using MathNet.Numerics.Distributions;
using static DecayAtlas.Prediction.Cards.CardText;

namespace DecayAtlas.Prediction.Cards;

/// <summary>The part of the card on intervals, applicability, residuals, importance and effects.</summary>
internal static class CardFindings
{
    public static void Write(CardText text, ModelCard card)
    {
        Intervals(text, card, card.Findings);
        Kinds(text, card, card.Findings);
        Applicable(text, card.Findings);
        Residuals(text, card.Findings);
        WithoutNoted(text, card);
        Learning(text, card.Findings);
        Understanding(text, card, card.Findings);
    }

    private static void Intervals(CardText text, ModelCard card, ModelFindings f)
    {
        string level = Share(f.Interval.Level);
        text.Paragraph($"## Prediction intervals");
        string scale = card.Target == PredictionTarget.DecayRate ? " in ln k" : "";
        text.Paragraph($"The residuals of the held-out blocks give an interval that is to hold {level} of the site-campaign means that new "
            + $"sites would give, measured with the same lots: the prediction ± {Number(f.Interval.Quantile, "0.00")} × "
            + $"({Number(f.Interval.Base)} + {Number(f.Interval.Slope)} × dissimilarity){scale} (conformal)."
            + (f.Interval.Kinds.Count == 0 ? ""
                : $" An ecosystem with {PredictionInterval.FewestOfKind} rows or more has a multiple of its own: "
                + $"{string.Join(", ", f.Interval.Kinds.Select(k => $"{k.Kind} {Number(k.Quantile, "0.00")}"))}. It counts where the "
                + (card.Covariates.Any(c => c is { Name: KindsOfPlaces.Name, Classes: not null })
                    ? "ecosystem of a place is known, as on a map, where the model takes it as a covariate."
                    : "ecosystem of a place is stated; a map knows none and takes the common one."))
            + " How often it held what was held out, each fold calibrated by the others:");
        text.Table($"| Rows | Number | Inside the {level} interval | RMSE |", "| --- | ---: | ---: | ---: |",
            f.Coverage.Select(c => $"| {c.Title} | {c.Rows} | {Share(c.Share)} | {Number(c.Rmse)} |"));
        text.Paragraph($"A group of few rows says little: with 20 rows and a true {level}, anything from "
            + $"{Share(LowestByChance(20, f.Interval.Level))} up is chance.");
        Coverage[] tooFew = [.. f.Coverage.Where(c => c.Share < LowestByChance(c.Rows, f.Interval.Level))];
        if (tooFew.Length > 0)
        {
            text.Paragraph($"Fewer than chance explains (two-sided 5 %, rows taken as independent, each group for itself): "
                + $"{string.Join(", ", tooFew.Select(c => c.Title))}. The interval is too narrow there.");
        }
    }

    private static void Kinds(CardText text, ModelCard card, ModelFindings f)
    {
        double z = ErrorParts.NormalQuantile(f.Interval.Level), half = f.Interval.HalfWidthAt(f.Applicability.MedianTrainingIndex);
        double t = MemberSet.QuantileOf(f.Interval.Level, f.Members.Count, f.Members.Blocks);
        double local = f.Parts.LocalHalfWidth(half, f.Interval.Level), members = t * t * (f.Parts.OfModel + f.Members.OfShared);
        double place = Math.Sqrt(local * local + members);
        double measured = Math.Sqrt(place * place + z * z * (f.Parts.OfRows + f.Parts.OfLots));
        string unit = card.Target == PredictionTarget.DecayRate ? "ln k" : "S";
        text.Paragraph($"Three intervals are made of that one, each with what all sites share ({Share(f.Interval.Level)}; here at a place "
            + "of middling dissimilarity):");
        text.Table($"| Of | ± {unit} | holds |", "| --- | ---: | --- |",
        [
            $"| what is true of a place (the map) | {Number(place)} | what the place is off by, the choice of sites, lots and batches |",
            $"| what one site there would be measured as | {Number(measured)} | the same, and burials, batches and lots of its own |",
            $"| the mean of a region | at least {Number(Math.Sqrt(members))} | what places are off by, as far as it does not average out, "
                + "the choice of sites, lots and batches |",
        ]);
        text.Paragraph($"Standard deviations ({unit}): held-out rows {Number(half / z)}; of this what a row is measured wrong "
            + $"by {Number(Math.Sqrt(f.Parts.OfRows))} and the choice of sites {Number(Math.Sqrt(f.Parts.OfModel))}; beside it the lots "
            + $"of one site {Number(Math.Sqrt(f.Parts.OfLots))}, and lots and batches in the model "
            + $"{Number(Math.Sqrt(f.Members.OfShared))}. What the model is off by comes from {f.Members.Count} members, trained on "
            + $"{f.Members.Blocks} blocks of sites drawn anew, with the errors of lots and batches drawn anew.");
    }

    internal static double LowestByChance(int rows, double level) =>
        Enumerable.Range(0, rows).FirstOrDefault(x => Binomial.CDF(level, rows, x) >= 0.025, rows) / (double)rows;

    private static void Applicable(CardText text, ModelFindings f)
    {
        ApplicabilitySummary a = f.Applicability;
        text.Paragraph($"## Where it may be used");
        text.Paragraph($"The dissimilarity index is the distance to the nearest training row over the mean distance between training "
            + $"rows, covariates weighted by importance (Meyer and Pebesma 2021). The area of applicability reaches to "
            + $"**{Number(a.Threshold)}**; {Share(a.ShareOfTrainingInside)} of the training rows lie within that of rows of other "
            + $"blocks (median {Number(a.MedianTrainingIndex)}). Beyond, the scores above do not hold. Expected error by dissimilarity:");
        text.Table("| Dissimilarity | Rows | RMSE | Inside the interval |", "| --- | ---: | ---: | ---: |",
            f.ErrorByDissimilarity
                .Select(e => $"| {Number(e.LowestIndex)} to {Number(e.HighestIndex)} | {e.Rows} | {Number(e.Rmse)} | "
                + $"{Share(e.Coverage)} |"));
        text.Paragraph($"![Error over dissimilarity]({CardFigures.ErrorByDissimilarity})");
    }

    private static void Residuals(CardText text, ModelFindings f)
    {
        text.Paragraph($"## What is left unexplained");
        text.Paragraph($"![Observed against predicted]({CardFigures.ObservedPredicted})");
        text.Paragraph($"![Residuals of sites on a map]({CardFigures.ResidualMap})");
        if (f.Residuals is not { } m)
        {
            text.Paragraph($"Too few sites, or no residuals that differ: no spatial pattern can be looked for.");
        }
        else
        {
            text.Paragraph($"Moran's I of the residuals of {m.Sites} sites ({m.Neighbours} nearest neighbours) is {Number(m.I)} "
                + $"(expected without pattern {Number(m.Expected)}, P = {Number(m.P, m.P < 0.001 ? "0.0E+0" : "0.000")}): "
                + $"{(m.P >= 0.05 ? "no pattern beyond chance." : m.I > m.Expected ? "neighbouring sites err alike, so something that "
                + "varies in space is missing from the covariates." : "neighbouring sites err against each other.")}");
        }
    }

    private static void WithoutNoted(CardText text, ModelCard card)
    {
        text.Paragraph($"## Without noted records");
        if (card.Findings.WithoutNoted is not { } noted)
        {
            text.Paragraph($"No training row rests on a noted burial.");
            return;
        }

        bool rate = card.Target == PredictionTarget.DecayRate;
        string rest = $"{Counted.Of(noted.Rows, "row")} of {card.Training.Rows} rest on burials that a note casts doubt on (table `noted` "
            + $"of the release); of {noted.RowsLeftOut} of them nothing is left without these.";
        if (noted is not { RmseWithout: { } without, RmseOfOthers: { } others, MedianShift: { } median, Shift95: { } most })
        {
            text.Paragraph($"{rest} {noted.Statement}");
            return;
        }

        text.Paragraph($"{rest} {card.WinnerScore().Title}, trained again without them on the same folds with the same settings:");
        text.Table("| Trained on | Scored on | RMSE, held-out blocks |", "| --- | --- | ---: |",
        [
            $"| all | all | {Number(noted.Rmse)} |", $"| all | what is not noted | {Number(others)} |",
            $"| what is not noted | what is not noted | {Number(without)} |",
        ]);
        text.Paragraph(rate
            ? $"At the places of the training rows the two predict k that differ by a factor of {Number(Math.Exp(median))} (median) and "
                + $"{Number(Math.Exp(most))} (95th percentile). What is given is the model of all rows; a map says how far the other "
                + "differs on it."
            : $"At the places of the training rows the two predict S that differ by {Number(median, "0.0000")} (median) and "
                + $"{Number(most, "0.0000")} (95th percentile). What is given is the model of all rows.");
    }

    private static void Learning(CardText text, ModelFindings f)
    {
        if (f.LearningCurve.Count < 2)
            return;
        text.Paragraph($"## Would more sites help?");
        text.Table("| Share of the other sites | Sites | RMSE on held-out blocks |", "| ---: | ---: | ---: |",
            f.LearningCurve.Select(p => $"| {Share(p.Share)} | {p.MeanSites:0} | {Number(p.Rmse)} |"));
        text.Paragraph($"![Error over the number of sites]({CardFigures.Learning})");
        double fall = 1 - f.LearningCurve[^1].Rmse / f.LearningCurve[^2].Rmse;
        text.Paragraph($"From {Share(f.LearningCurve[^2].Share)} of the sites to all, the error {(fall > 0 ? "falls" : "rises")} by "
            + $"{Number(Math.Abs(fall) * 100, "0.0")} %. "
            + $"{(fall > 0.02 ? "It is still falling: more sites of the same kind would help." : "It has levelled out: more sites of "
            + "the same kind would help little; other kinds of place, or other covariates, may.")}");
    }

    private static void Understanding(CardText text, ModelCard card, ModelFindings f)
    {
        text.Paragraph($"## What drives it");
        text.Table("| Covariate | Importance (rise of RMSE when shuffled) | Effect, from the lowest to the highest |", "| --- | ---: | "
            + "--- |",
            f.Importance
                .Select(i => $"| `{i.Covariate}` | {Signed(i.RmseIncrease)} ± {Number(i.StandardDeviation)} | "
                + $"{Effect(f.Effects.Single(e => e.Covariate == i.Covariate))} |"));
        text.Paragraph($"![Importance of each covariate]({CardFigures.Importance})");
        text.Paragraph($"![Accumulated local effects of each covariate]({CardFigures.Effects})");
        text.Paragraph($"Importance is measured on the held-out blocks ({card.Options.ImportanceRepeats} shuffles, mean ± standard "
            + "deviation). The effect is the accumulated local effect (Apley and Zhu 2020) over the training range, in units of what "
            + "is learnt"
            + (f.Effects.All(e => e.Classes is null) ? ". " : "; that of a class is what all training rows would be predicted as if "
            + "they were of it (partial dependence, Friedman 2001), less their mean. ")
            + "Covariates that move together share importance and effect, so a low value does not prove that a covariate "
            + "does not matter. Neither is proof of cause.");
    }

    private static string Effect(CovariateEffect e)
    {
        int low = e.Effects.ToList().IndexOf(e.Effects.Min()), high = e.Effects.ToList().IndexOf(e.Effects.Max());
        return e.Classes is { } classes
            ? string.Join(", ", classes.Zip(e.Effects).OrderBy(x => x.Second).Select(x => $"{Signed(x.Second)} {x.First}"))
            : Invariant($"{Signed(e.Effects[low])} at {e.Values[low]:G3}, {Signed(e.Effects[high])} at {e.Values[high]:G3}");
    }
}
