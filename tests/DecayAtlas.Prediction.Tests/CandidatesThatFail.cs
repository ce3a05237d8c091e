using System.Text.Json;

namespace DecayAtlas.Prediction.Tests;

/// <summary>A candidate that cannot be trained costs itself, is named with the reason, and no other.</summary>
public class CandidatesThatFail
{
    private static readonly TrainingOptions Quick = new() { Folds = 3, Trees = 5, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 };
    private static readonly TrainingSet Set = InventedSites.Make(90, InventedSites.LinearTruth, 0.1);

    public static TheoryData<string, string> Failures => new()
    {
        { "throws", "Its training broke off (InvalidOperationException)." },
        { "throws a sentence", "The rows do not suit." },
        { "throws late", "Its training broke off (InvalidOperationException)." },
        { "gives no number", "It predicts no finite number for site 'site-" },
        { "cannot be saved", "Its training broke off (NotSupportedException)." },
    };

    [Theory]
    [MemberData(nameof(Failures))]
    public void It_is_left_out_and_the_card_says_which_and_why(string how, string reason)
    {
        using TemporaryFolder folder = new();
        using RateModel model = ModelTrainer.TrainOf(Set, Quick, With(new Failing(how), new LinearCandidate()));
        LeftOutCandidate left = Assert.Single(model.Card.LeftOut);
        Assert.Equal(("failing", "One that fails"), (left.Name, left.Title));
        Assert.StartsWith(reason, left.Reason, StringComparison.Ordinal);
        // a card is public, and what a library says may quote anything
        Assert.DoesNotContain(Failing.WordsOfALibrary, JsonSerializer.Serialize(model.Card, ModelJson.Options), StringComparison.Ordinal);
        Assert.Equal(["mean", "linear"], model.Card.Scores.Select(s => s.Name));

        model.Save(folder.Path);
        Assert.Contains($"Left out: One that fails. {reason}", File.ReadAllText(folder.Of(RateModel.CardMarkdownFile)),
            StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(folder.Of(RateModel.CardJsonFile)));
        Assert.Equal(left.Reason, json.RootElement.GetProperty("left_out")[0].GetProperty("reason").GetString());
        using RateModel again = RateModel.Load(folder.Path);
        Assert.Equal(model.Card.LeftOut, again.Card.LeftOut);
    }

    [Fact]
    public void Where_none_is_left_one_sentence_names_each_with_its_reason()
    {
        string says =
            Assert.Throws<PredictionException>(() =>
                ModelTrainer.TrainOf(Set, Quick, With(new Failing("throws"), new Failing("throws a sentence")))).Message;
        Assert.Contains("No candidate model of k could be trained", says, StringComparison.Ordinal);
        Assert.Contains("One that fails: Its training broke off", says, StringComparison.Ordinal);
        Assert.Contains("One that fails: The rows do not suit.", says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("memory", typeof(InsufficientMemoryException))]
    [InlineData("memory in several threads", typeof(InsufficientMemoryException))]
    [InlineData("memory behind a sentence", typeof(InsufficientMemoryException))]
    [InlineData("disk", typeof(IOException))]
    [InlineData("disk in one fold", typeof(IOException))]
    [InlineData("disk when saved", typeof(IOException))]
    [InlineData("rights", typeof(UnauthorizedAccessException))]
    public void Memory_or_storage_that_fails_is_no_fault_of_the_candidate_and_ends_the_training(string how, Type fault) =>
        Assert.Throws(fault, () => ModelTrainer.TrainOf(Set, Quick, With(new Failing(how), new LinearCandidate())));

    [Fact]
    public void A_published_response_that_fails_leaves_the_mean_as_the_only_baseline()
    {
        using RateModel model =
            ModelTrainer.TrainOf(Set, Quick, new CandidateSet(new MeanCandidate(), new Failing("throws"), [new LinearCandidate()], []));
        Assert.Equal("failing", Assert.Single(model.Card.LeftOut).Name);
        Assert.Contains(model.Card.Notes, n => n.Contains("the training mean is the only baseline", StringComparison.Ordinal));
    }

    private static CandidateSet With(params Candidate[] learned) => new(new MeanCandidate(), null, learned, []);

    private sealed class Failing(string how) : Candidate("failing", "One that fails")
    {
        public const string WordsOfALibrary = "are no numbers";

        private int _fits;

        public override IReadOnlyList<Setting> Settings(TrainingOptions options) => [new()];

        public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
        {
            bool isOfAllRows = table.Count == Set.Rows.Count;
            return how switch
            {
                "throws" => throw new InvalidOperationException($"the weights\n {WordsOfALibrary}"),
                "throws a sentence" => throw new PredictionException("The rows do not suit."),
                "throws late" when isOfAllRows => throw new AggregateException(new InvalidOperationException(WordsOfALibrary)),
                "gives no number" => Of(double.NaN),
                "cannot be saved" => Of(-4) with { Save = () => throw new NotSupportedException(WordsOfALibrary) },
                "memory" => throw new InsufficientMemoryException(),
                "memory in several threads" =>
                    throw new AggregateException(new InvalidOperationException(),
                        new AggregateException(new InsufficientMemoryException())),
                "memory behind a sentence" => throw new PredictionException("The rows do not suit.", new InsufficientMemoryException()),
                "disk" => throw new InvalidOperationException("no temporary file", new IOException("No space left on device")),
                // whichever fold comes last: the others fail over the candidate
                "disk in one fold" => throw (Interlocked.Increment(ref _fits) == 3 ? new IOException() : new InvalidOperationException()),
                "disk when saved" => Of(-4) with { Save = () => throw new AggregateException(new IOException()) },
                "rights" => throw new UnauthorizedAccessException(),
                _ => Of(-4),
            };

            FittedModel Of(double value)
            {
                ConstantFormula formula = new(table.FeatureCount, value);
                return new(new FormulaPredictor(formula), () => SavedPredictor.Of(formula));
            }
        }
    }
}
