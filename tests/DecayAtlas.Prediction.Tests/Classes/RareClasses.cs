namespace DecayAtlas.Prediction.Tests.Classes;

/// <summary>Classes of few rows, classes that one fold holds out whole, and what a class weighs.</summary>
public class RareClasses
{
    private static readonly TrainingOptions Quick =
        new() { Members = 20, ImportanceRepeats = 2, Trees = 20, SettingsTried = 1, BlockDegrees = 2 };

    /// <summary>Rows of one number and one class, which the place in the list decides.</summary>
    private static TrainingSet Of(params string[] classes)
    {
        Random random = new(5);
        return new([new("x", "1", "x"), new("class", "", "Class") { IsClass = true }],
            [.. classes.Select((name, i) => new TrainingRow($"s{i:000}", "c", 40 + i % 8, 8 + i / 8 % 8, random.NextDouble(), 1, default,
                default, [random.NextDouble(), double.NaN]) { Classes = [null, name] })], "r", 0);
    }

    private static string[] Many(params (string Name, int Rows)[] classes) =>
        [.. classes.SelectMany(c => Enumerable.Repeat(c.Name, c.Rows))];

    [Fact]
    public void A_class_of_one_row_is_left_out_with_its_row()
    {
        TrainingSet found = ClassRows.Numbered(Of(Many(("a", 40), ("b", 40), ("lonely", 1))), 1);
        Assert.Equal(["a", "b"], found.Covariates[1].Classes!.Names);
        Assert.Equal(80, found.Rows.Count);
        Assert.Equal(new RareClass("class", "lonely", 1, false), Assert.Single(found.RareClasses));
        Assert.Equal(CovariateClasses.Unseen, found.Covariates[1].Classes!.PlaceOf("lonely"));
    }

    [Fact]
    public void Rare_classes_that_are_enough_together_are_joined_to_the_others_and_stand_for_these_later()
    {
        TrainingSet found = ClassRows.Numbered(Of(Many(("a", 40), ("b", 40), ("c", 6), ("other", 3), ("d", 5))), 1);
        CovariateClasses classes = found.Covariates[1].Classes!;
        Assert.Equal(["a", "b", "other"], classes.Names);
        Assert.Equal(["c", "d"], classes.Joined);
        Assert.Equal([40, 40, 14], classes.Rows);
        Assert.Equal(94, found.Rows.Count);
        Assert.Equal((2, 2, 0, CovariateClasses.Unseen), (classes.PlaceOf("C"), classes.PlaceOf("other"), classes.PlaceOf(" A"),
            classes.PlaceOf("e")));
        Assert.Equal([("c", 6, true), ("d", 5, true)], found.RareClasses.Select(r => (r.Class, r.Rows, r.IsJoined)));
    }

    /// <summary>Thirty rows, and all in one place: what is so there would be taken for the class.</summary>
    [Fact]
    public void A_class_that_lies_in_one_block_is_rare_however_many_rows_it_has()
    {
        TrainingSet set = Of(Many(("a", 40), ("b", 40), ("here", 30)));
        set = set with
        {
            Rows = [.. set.Rows.Select(r => r.Classes[1] == "here" ? r with { LatitudeDegrees = 60.5, LongitudeDegrees = 20.5 } : r)],
        };
        Assert.Equal(new RareClass("class", "here", 30, false), Assert.Single(ClassRows.Numbered(set, 1).RareClasses));
    }

    [Fact]
    public void Spellings_of_one_class_are_one_and_the_commonest_is_its_name()
    {
        TrainingSet found = ClassRows.Numbered(
            Of(Many(("Grünland", 20), ("GRÜNLAND", 3), ("grünland ", 2), ("A1", 20), ("A-1", 20))), 1);
        Assert.Equal(["A-1", "A1", "Grünland"], found.Covariates[1].Classes!.Names);
        Assert.Equal([20, 20, 25], found.Covariates[1].Classes!.Rows);
    }

    [Fact]
    public void The_only_class_is_told_in_one_sentence()
    {
        TrainingSet only = ClassRows.Numbered(Of(Many(("a", 60))), 1);
        Assert.Contains("is the class a at every training site", Assert.Throws<PredictionException>(() =>
            ModelTrainer.Train(only, Quick)).Message, StringComparison.Ordinal);
    }

    /// <summary>All candidates, trees too, train on columns that do not vary in a fold.</summary>
    [Fact]
    public void A_class_that_one_fold_holds_out_whole_is_trained_without_it_and_told()
    {
        TrainingSet set = Of(Many(("a", 60), ("b", 60)));
        set = set with
        {
            Covariates = [set.Covariates[0], set.Covariates[1] with { Classes = new(["a", "b"], [], [60, 60]) }],
            Rows =
            [
                .. set.Rows.Select((r, i) => r with
                {
                    Classes = [],
                    Covariates = [r.Covariates[0], i % 8 < 2 && i / 8 % 8 < 2 ? 1 : 0],
                    Target = r.Covariates[0] + 0.1 * r.Target,
                }),
            ],
        };
        using RateModel model = ModelTrainer.Train(set, Quick);
        Assert.Empty(model.Card.LeftOut);
        Assert.Contains("All rows of the class b of class are held out together, by fold", Assert.Single(model.Card.Notes,
            n => n.Contains("class b", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.All(model.HeldOut, r => Assert.True(double.IsFinite(r.Predicted)));
    }

    /// <summary>The mean square distance of two rows is twice the variance: by hand, for a number as for a class of any number of
    /// classes.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(7)]
    public void A_class_weighs_as_much_as_a_number_in_the_dissimilarity_whatever_its_classes(int classes)
    {
        TrainingSet set = ClassRows.Numbered(Of([.. Enumerable.Range(0, 140).Select(i => $"{i % classes}")]), 1);
        CovariateTable table = CovariateTable.Of(set);
        foreach (double[] importance in new[] { new[] { 0.3, 0 }, [0, 0.3] })
        {
            ApplicabilityState state = Applicability.Of(table, [.. table.Rows.Select((_, r) => r % 5)], importance).Applicability.State;
            double sum = 0;
            for (int a = 0; a < table.Count; a++)
            {
                for (int b = a + 1; b < table.Count; b++)
                    sum += SquaredDistance(a, b);
            }

            Assert.Equal(2 * 0.3 * 0.3, sum / (140 * 139 / 2.0), 1e-9);

            double SquaredDistance(int a, int b) => Enumerable.Range(0, table.FeatureCount)
                .Sum(f => Math.Pow(((double)table.FeaturesOf(a)[f] - table.FeaturesOf(b)[f]) * state.Scales[f], 2));
        }
    }

    /// <summary>A shuffled row that had two classes, or none, would be predicted as not a number.</summary>
    [Fact]
    public void A_class_is_shuffled_whole()
    {
        TrainingSet set = ClassRows.Numbered(Of([.. Enumerable.Range(0, 140).Select(i => $"{i * i % 5}")]), 1);
        CovariateTable table = CovariateTable.Of(set with
        {
            Rows = [.. set.Rows.Select(r => r with { Target = 10 * r.Covariates[1] })],
        });
        CrossValidationFolds folds = CrossValidationFolds.Blocked(table.Rows, 3, 2);
        WholeClasses model = new(table.FeatureCount);
        double[] predicted = [.. Enumerable.Range(0, table.Count).Select(r => model.Predict(table.FeaturesOf(r)))];
        IReadOnlyList<CovariateImportance> found = PermutationImportance.Of(set.Covariates, table, folds,
            new(predicted, [new(), new(), new()], [model, model, model]), Quick);
        Assert.True(double.IsFinite(found[1].RmseIncrease) && found[1].RmseIncrease > 0);
        Assert.Equal(0, found[0].RmseIncrease);
    }

    private sealed class WholeClasses(int width) : RatePredictor
    {
        public override int FeatureCount => width;

        protected override void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates)
        {
            for (int row = 0; row < lnRates.Length; row++)
            {
                ReadOnlySpan<float> classes = features.Slice(row * width + 1, width - 1);
                float sum = 0;
                foreach (float here in classes)
                    sum += here;
                lnRates[row] = sum == 1 ? 10 * classes.IndexOf(1f) : double.NaN;
            }
        }
    }
}
