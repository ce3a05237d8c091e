namespace DecayAtlas.Cli.Tests;

/// <summary>A long stage is seen to move in a log, and does not fill it.</summary>
public class ProgressInALog
{
    private sealed class HandMoved : TimeProvider
    {
        public long Seconds { get; set; }

        public override long TimestampFrequency => 1;

        public override long GetTimestamp() => Seconds;
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_line_comes_at_most_every_fifteen_seconds_and_none_of_a_short_stage(bool isJson)
    {
        StringWriter error = new() { NewLine = "\n" };
        Screen screen = new(TextWriter.Null, error);
        HandMoved clock = new() { Seconds = 1000 };
        IRunObserver observer = isJson ? new JsonObserver(screen, clock) : new LineObserver(screen, clock);

        observer.StageStarted("train");
        for (int second = 0; second < 60; second++)
        {
            clock.Seconds++;
            observer.StageProgressed("train", "a line", second, 60);
        }

        observer.StageFinished("train", "done");
        observer.StageStarted("map");
        observer.StageProgressed("map", "Map", 1, 2);
        observer.StageFinished("map", "drawn");

        string[] lines = error.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(4, lines.Count(line => line.Contains(" % (a line)", StringComparison.Ordinal)));
        Assert.Contains("23 % (a line)", error.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("(Map)", error.ToString(), StringComparison.Ordinal);
    }
}
