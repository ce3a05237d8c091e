using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Prediction.Tests;

/// <summary>What a modeller may write into a configuration ends in a card, or in a sentence that says why there is none.</summary>
public class OrdinaryConfigurations
{
    private static readonly CovariateInfo[] Infos =
    [
        new("air_temperature_mean", "degC", "Air temperature"), new("precipitation", "mm/yr", "Precipitation"),
        new("soil_moisture", "1", "Soil moisture"),
        new("soil_ph", "pH", "Soil pH"), new("clay", "percent", "Clay"), new("elevation", "m", "Elevation"),
    ];

    private static readonly TrainingRow[] Islands = [.. File.ReadLines(TestTable.PathOf("islands.csv")).Skip(1).Select(RowOf)];

    private static readonly TrainingOptions Small = new()
    {
        Folds = 2,
        Trees = 3,
        SettingsTried = 1,
        InnerFolds = 2,
        ImportanceRepeats = 1,
        Members = 20,
    };

    public static TheoryData<string> Subsets => [.. All().Select(s => string.Join(' ', s.Select(c => Infos[c].Name)))];

    [Theory]
    [MemberData(nameof(Subsets))]
    public void Every_one_and_two_covariates_and_eight_threes_give_a_card_with_every_candidate(string names)
    {
        // as one campaign in one ecosystem, which spares the folds of each; the settings of the demo, below, have them
        TrainingSet set = Of([.. names.Split(' ').Select(Index)], 3);
        using RateModel model =
            ModelTrainer.Train(set with { Rows = [.. set.Rows.Select(r => r with { Campaign = "one", Ecosystem = null })] }, Small);
        ExpectSound(model.Card);
        Assert.Empty(model.Card.LeftOut);
    }

    [Fact]
    public void Three_covariates_at_the_settings_of_the_demo_give_a_card_with_every_candidate()
    {
        TrainingOptions options = new()
        {
            // as many members and repeats as are soon made
            Trees = 50,
            SettingsTried = 1,
            Members = 20,
            ImportanceRepeats = 1,
            TemperatureCovariate = "air_temperature_mean",
            MoistureCovariate = "soil_moisture",
        };
        TrainingSet set = Of([0, 1, 2], 1);
        using RateModel rate = ModelTrainer.Train(set, options);
        ExpectSound(rate.Card);
        Assert.Empty(rate.Card.LeftOut);
        Assert.Equal(["mean", "warmth-moisture", "linear", "curved"], rate.Card.Scores.Take(4).Select(s => s.Name));
        Assert.Equal(Support.Learned, rate.Card.Support);
    }

    [Fact]
    public void Two_covariates_that_are_the_same_give_a_card_that_says_so()
    {
        TrainingSet set = Of([0, 0, 1], 3) with { Covariates = [Infos[0], Infos[0] with { Name = "again" }, Infos[1]] };
        using RateModel model = ModelTrainer.Train(set, Small);
        ExpectSound(model.Card);
        Assert.Null(model.Card.Collinearity.Inflation[0].Factor);
        Assert.Contains("determined by the others", ModelCardMarkdown.Of(model.Card), StringComparison.Ordinal);
    }

    [Fact]
    public void A_covariate_that_hardly_varies_or_is_huge_beside_the_others_gives_a_card()
    {
        TrainingSet rows = Of([0, 1, 2], 3);
        foreach (Func<int, double> third in new Func<int, double>[] { i => i % 10 == 0 ? 1 : 0, i => 1e30 * (i % 7), i => 1e-30 * (i % 7),
            i => 1e6 + i % 2 })
        {
            using RateModel model =
                ModelTrainer.Train(
                    rows with { Rows = [.. rows.Rows.Select((r, i) => r with { Covariates = [.. r.Covariates.Take(2), third(i / 4)] })] },
                    Small);
            ExpectSound(model.Card);
        }
    }

    [Fact]
    public void A_covariate_that_is_missing_at_some_sites_leaves_out_their_rows_only()
    {
        // The rows that lack it are left out where the set is made; what is left is trained on and the card counts them.
        TrainingSet set = Of([0, 1], 3);
        using RateModel model =
            ModelTrainer.Train(set with { Rows = [.. set.Rows.Skip(9)], RowsLeftOut = 9, Missing = [new("precipitation", 9)] }, Small);
        ExpectSound(model.Card);
        Assert.Equal(9, model.Card.Training.Missing.Single().Rows);
    }

    [Theory]
    [InlineData("constant", "is 7 at every training site")]
    [InlineData("one site differs", "does not vary outside the blocks held out in fold")]
    [InlineData("few rows", "12 rows to train on")]
    [InlineData("more folds than rows", "expected at least 400 (one a fold)")]
    [InlineData("interval", "too few for an interval of level 0.99")]
    [InlineData("one site", "one a fold")]
    public void What_honestly_cannot_be_trained_is_one_sentence(string what, string says)
    {
        TrainingSet set = Of([0, 1], 1);
        TrainingSet With(Func<TrainingRow, TrainingRow> change) => set with { Rows = [.. set.Rows.Select(change)] };
        (TrainingSet Set, TrainingOptions Options) bad = what switch
        {
            "constant" => (With(r => r with { Covariates = [7, r.Covariates[1]] }), Small),
            "one site differs" =>
                (set with { Rows = [.. set.Rows.Select((r, i) => r with { Covariates = [i == 0 ? 1 : 0, r.Covariates[1]] })] }, Small),
            "few rows" => (set with { Rows = [.. set.Rows.Take(12)] }, Small),
            "more folds than rows" => (set, Small with { Folds = 400 }),
            "interval" => (set with { Rows = [.. set.Rows.Take(60)] }, Small with { IntervalLevel = 0.99 }),
            _ => (With(r => r with { SiteKey = "only" }), Small),
        };
        string message = Assert.Throws<PredictionException>(() => ModelTrainer.Train(bad.Set, bad.Options)).Message;
        Assert.Contains(says, message, StringComparison.Ordinal);
        Assert.EndsWith(".", message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_handful_of_rows_more_than_the_fewest_gives_a_card_or_a_sentence()
    {
        for (int rows = 10; rows <= 40; rows += 5)
        {
            TrainingSet set = Of([0, 2], 1);
            try
            {
                using RateModel model =
                    ModelTrainer.Train(set with { Rows = [.. set.Rows.Where((_, i) => i % 8 == 0).Take(rows)] },
                        Small with { MinimumRows = 10, Folds = 2 });
                ExpectSound(model.Card);
            }
            catch (PredictionException e)
            {
                Assert.EndsWith(".", e.Message, StringComparison.Ordinal);
            }
        }
    }

    private static void ExpectSound(ModelCard card)
    {
        string json = JsonSerializer.Serialize(card, ModelJson.Options), text = ModelCardMarkdown.Of(card);
        Assert.All(new[] { "NaN", "Infinity", "∞" }, word =>
        {
            Assert.DoesNotContain(word, json, StringComparison.Ordinal);
            Assert.DoesNotContain(word, text, StringComparison.Ordinal);
        });
    }

    /// <summary>The islands' rows with some of their covariates; of <paramref name="every"/> rows one is taken.</summary>
    private static TrainingSet Of(int[] covariates, int every) => new(
        [.. covariates.Select(c => Infos[c])],
        [.. Islands.Where((_, i) => i % every == 0).Select(r => r with { Covariates = [.. covariates.Select(c => r.Covariates[c])] })],
        "release-islands", 0);

    private static int Index(string name) => Array.FindIndex(Infos, i => i.Name == name);

    private static IEnumerable<int[]> All()
    {
        for (int a = 0; a < 6; a++)
        {
            yield return [a];
            for (int b = a + 1; b < 6; b++)
            {
                yield return [a, b];
                for (int c = b + 1; c < 6; c++)
                {
                    if ((a + b + c) % 3 == 0)   // eight of the twenty, in which each covariate stands four times
                        yield return [a, b, c];
                }
            }
        }
    }

    private static TrainingRow RowOf(string line)
    {
        string[] cells = line.Split(',');
        double Number(int i) => double.Parse(cells[i], CultureInfo.InvariantCulture);
        return new(cells[0], cells[1], Number(2), Number(3), Number(6), Number(5), default,
            default, [.. Enumerable.Range(7, 6).Select(Number)], cells[4]);
    }
}
