namespace DecayAtlas.Prediction.Tests;

/// <summary>A model beside the same model trained without noted rows. Where nothing drives the target the training mean is given, and all
/// that is told of it can be computed by hand.</summary>
public class ModelsWithoutNoted
{
    private static readonly TrainingOptions Quick = new() { Trees = 20, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 };

    /// <summary>Rows whose target is noise alone; every tenth is too slow by 2, rests on noted burials, and has nothing else.</summary>
    private static TrainingSet Given(TrainingSet set)
    {
        Random random = new(3);
        TrainingRow[] rows =
        [
            .. set.Rows.Select((r, i) => r with { Target = -4.5 + 0.1 * (random.NextDouble() - 0.5) - (IsNoted(i) ? 2 : 0) }),
        ];
        return set with { Rows = rows, WithoutNoted = [.. rows.Select((r, i) => IsNoted(i) ? null : r)] };
    }

    private static bool IsNoted(int row) => row % 10 == 0;

    private static double WeightedMean(IEnumerable<TrainingRow> rows) =>
        rows.Sum(r => r.Weight * r.Target) / rows.Sum(r => r.Weight);

    [Fact]
    public void The_error_without_them_is_that_of_the_others_and_predictions_move_by_the_difference_of_the_means()
    {
        TrainingSet set = Given(InventedSites.Make(200, InventedSites.LinearTruth, 0.1));
        using RateModel model = ModelTrainer.Train(set, Quick);
        Assert.Equal("mean", model.Card.Winner);
        NotedInfluence found = model.Card.Findings.WithoutNoted!;

        Assert.Equal((20, 20), (found.Rows, found.RowsLeftOut));
        double moved = WeightedMean(set.WithoutNoted!.OfType<TrainingRow>()) - WeightedMean(set.Rows);
        Assert.Equal(moved, found.MedianShift!.Value, 1e-9);
        Assert.Equal(moved, found.Shift95!.Value, 1e-9);
        // uniform noise of width 0.1 has sd 0.1/sqrt(12) = 0.029; with a tenth of the rows off by 2, sd is 2 sqrt(0.1 0.9) = 0.6
        Assert.InRange(found.RmseWithout!.Value, 0.025, 0.033);
        Assert.InRange(found.Rmse, 0.55, 0.65);
        // the mean of all lies about 0.2 off the sound rows
        Assert.InRange(found.RmseOfOthers!.Value, 0.15, 0.25);
        Assert.Equal(found.Rmse, model.Card.WinnerScore().Blocked.Pooled.Rmse);
    }

    [Fact]
    public void The_card_says_it_and_says_where_there_is_nothing_to_say()
    {
        using TemporaryFolder folder = new();
        TrainingSet set = Given(InventedSites.Make(200, InventedSites.LinearTruth, 0.1));
        using (RateModel model = ModelTrainer.Train(set, Quick))
            model.Save(folder.Path);
        string card = File.ReadAllText(folder.Of(RateModel.CardMarkdownFile));
        Assert.Contains("20 rows of 200 rest on burials that a note casts doubt on", card, StringComparison.Ordinal);
        Assert.Contains("| what is not noted | what is not noted | 0.0", card, StringComparison.Ordinal);
        using RateModel loaded = RateModel.Load(folder.Path);
        Assert.NotNull(loaded.WithoutNoted);
        Assert.StartsWith("20 training rows of the model rest on noted burials: without these its error on held-out blocks is 0.0",
            loaded.Card.NotedSentence(), StringComparison.Ordinal);

        using RateModel sound = ModelTrainer.Train(set with { WithoutNoted = null }, Quick);
        Assert.Null(sound.Card.Findings.WithoutNoted);
        Assert.Equal("No training row of the model rests on a noted burial.", sound.Card.NotedSentence());
        Assert.NotEqual(sound.Card.ModelId, loaded.Card.ModelId);
        sound.Save(folder.Of("sound"));
        Assert.Contains("No training row rests on a noted burial.", File.ReadAllText(folder.Of("sound", RateModel.CardMarkdownFile)),
            StringComparison.Ordinal);
        Assert.False(File.Exists(folder.Of("sound", "without-noted-model.json")));
    }

    [Fact]
    public void Too_few_rows_without_them_are_said_and_the_model_stands()
    {
        TrainingSet set = Given(InventedSites.Make(200, InventedSites.LinearTruth, 0.1));
        using RateModel model =
            ModelTrainer.Train(set with { WithoutNoted = [.. set.Rows.Select((r, i) => i < 20 ? r : null)] }, Quick);
        NotedInfluence found = model.Card.Findings.WithoutNoted!;
        Assert.Equal((null, "Without the noted burials 20 rows are left, expected at least 30."), (found.RmseWithout, found.Statement));
        Assert.Null(model.WithoutNoted);
        Assert.EndsWith("rest on noted burials. Without the noted burials 20 rows are left, expected at least 30.",
            model.Card.NotedSentence(), StringComparison.Ordinal);
    }

    [Fact]
    public void Burials_that_ln_k_cannot_hold_are_counted_in_the_card()
    {
        using TemporaryFolder folder = new();
        TrainingSet set = Given(InventedSites.Make(200, InventedSites.LinearTruth, 0.1));
        using (RateModel model = ModelTrainer.Train(set with { NotPositiveBurials = 1, BurialsAtPlateau = 7 }, Quick))
            model.Save(folder.Path);

        Assert.Contains("- Left out: 1 burial with k of 0 or below, and 7 burials whose slow litter is at its plateau",
            File.ReadAllText(folder.Of(RateModel.CardMarkdownFile)), StringComparison.Ordinal);
        using RateModel loaded = RateModel.Load(folder.Path);
        Assert.Equal((1, 7), (loaded.Card.Training.NotPositiveBurials, loaded.Card.Training.BurialsAtPlateau));
    }

    [Fact]
    public void A_map_says_by_which_factor_it_would_be_another()
    {
        using InventedIsland island = new(300, 280, new(10, 40, 13, 42.8));
        TrainingSet set = Given(island.Training);
        using RateModel model = ModelTrainer.Train(set, Quick);
        Assert.Equal("mean", model.Card.Winner);
        MapSummary summary = RateMap.Make(model, island.Entries, new("Decay rate", []), new(island.Of("a.tif"), null, island.Of("a.png")));

        // a mean is the same everywhere: each cell moves by the ratio of the two
        double factor = Math.Exp(WeightedMean(set.WithoutNoted!.OfType<TrainingRow>()) - WeightedMean(set.Rows));
        MapShift shift = summary.WithoutNoted!;
        Assert.Equal((factor, factor, factor), (shift.MedianFactor!.Value, shift.Factor95!.Value, shift.LargestFactor!.Value),
            (a, b) => Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2) + Math.Abs(a.Item3 - b.Item3) < 1e-5);
        Assert.Equal((1, summary.Predicted), (shift.Every, shift.Cells));
    }
}
