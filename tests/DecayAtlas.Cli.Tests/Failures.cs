using System.Text.Json;

namespace DecayAtlas.Cli.Tests;

/// <summary>Every failure becomes one sentence and an exit code.</summary>
public class Failures
{
    public static TheoryData<Exception, int> Known => new()
    {
        { new ConfigurationException("p.yaml:3: what is wrong"), 2 },
        { new YamlDocumentException("g.yaml:3: what is wrong"), 2 },
        { new GridException("clay.tif is no grid"), 3 },
        { new ContributionException("it could not be kept"), 3 },
        { new AtlasException("there is no release"), 3 },
        { new PredictionException("too few rows"), 3 },
        { new PagesException("the card can't be read"), 3 },
        { new DemoException("the folder holds something else"), 3 },
        { new UnauthorizedAccessException("Access to the path is denied"), 3 },
        { new IOException("No space left on device"), 3 },
        { new InvalidOperationException("Sequence contains\nno elements"), 3 },
    };

    [Theory]
    [MemberData(nameof(Known))]
    public void Each_is_one_sentence_with_its_exit_code(Exception failure, int exitCode)
    {
        (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());

        Assert.Equal(exitCode, Failure.Report(failure, new Screen(output, error), isJson: false));

        string sentence = Assert.Single(error.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.EndsWith(".", sentence, StringComparison.Ordinal);
        Assert.Contains(failure.Message.Split('\n')[0], sentence, StringComparison.Ordinal);
        Assert.Empty(output.ToString());
    }

    [Fact]
    public void A_mistake_of_ours_says_so_and_where()
    {
        StringWriter error = new();
        try
        {
            _ = Array.Empty<int>().First();
        }
        catch (InvalidOperationException e)
        {
            Failure.Report(e, new Screen(TextWriter.Null, error), isJson: false);
        }

        Assert.Contains("DecayAtlas made a mistake", error.ToString(), StringComparison.Ordinal);
        Assert.Contains("Please report it", error.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error.ToString(), StringComparison.Ordinal);
    }

    public static TheoryData<Exception, int> OfRuns => new()
    {
        { new KeyNotFoundException("The given key 'Jane, 47.32871' was not present."), 3 },
        { new IOException("/srv/inbox/Jane 47.32871.csv: Input/output error"), 3 },
        { new UnauthorizedAccessException("Access to the path '/srv/inbox/Jane 47.32871.csv' is denied."), 3 },
        { new AggregateException(new FormatException("The input string 'Jane 47.32871' was not in a correct format.")), 3 },
    };

    [Theory]
    [MemberData(nameof(OfRuns))]
    public void What_a_run_says_of_a_failure_quotes_nothing_that_was_received(Exception failure, int exitCode)
    {
        foreach (bool isJson in new[] { false, true })
        {
            (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());

            Assert.Equal(exitCode, Failure.Report(new FailedRunException(null, failure), new Screen(output, error), isJson));

            string said = $"{output}{error}";
            Assert.DoesNotContain("Jane", said, StringComparison.Ordinal);
            Assert.DoesNotContain("47.32871", said, StringComparison.Ordinal);
            Assert.Contains((failure.InnerException ?? failure).GetType().Name, said, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_mistake_is_placed_in_what_is_ours_and_not_in_the_runtime(bool isOfRun)
    {
        StringWriter error = new();
        try
        {
            JsonDocument.Parse("null").RootElement.GetProperty("what");
        }
        catch (InvalidOperationException e)
        {
            Failure.Report(isOfRun ? new FailedRunException(null, e) : e, new Screen(TextWriter.Null, error), isJson: false);
        }

        Assert.Contains($"InvalidOperationException in {nameof(Failures)}", error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void For_machines_it_is_JSON_on_standard_output()
    {
        StringWriter output = new();
        Failure.Report(new AtlasException("there is no release"), new Screen(output, TextWriter.Null), isJson: true);
        JsonElement answer = JsonDocument.Parse(output.ToString()).RootElement;
        Assert.Equal("there is no release.", answer.GetProperty("failure").GetString());
        Assert.Equal(3, answer.GetProperty("exit_code").GetInt32());
    }
}
