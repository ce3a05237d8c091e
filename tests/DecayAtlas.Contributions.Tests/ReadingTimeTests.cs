namespace DecayAtlas.Contributions.Tests;

/// <summary>Reading one contribution has a limit of time, held by a clock that only moves when it is asked.</summary>
public class ReadingTimeTests
{
    private static readonly IntakeLimits TenSeconds = IntakeLimits.Default with { MaxSeconds = 10 };

    public static TheoryData<string, int> Formats =>
        new(from format in new[] { "package", "zip", "xlsx", "wide" } from quiet in new[] { 0, 8 } select (format, quiet));

    /// <param name="quietAsks">As often it stands still: past listing and hashing, to the tables themselves.</param>
    [Theory]
    [MemberData(nameof(Formats))]
    public void A_contribution_that_takes_too_long_is_told_as_too_costly_whatever_its_format(string format, int quietAsks)
    {
        using Example example = new();
        string path = PathOf(example, format);
        Assert.NotNull(ContributionReader.Read(path, IntakeLimits.Default).Contribution);

        ReadResult result = ContributionReader.Read(path, TenSeconds, null, new SteppingClock(4, quietAsks));
        Assert.Null(result.Contribution);
        Finding finding = Assert.Single(result.Findings);
        Assert.Equal(FindingCode.TooCostly, finding.Code);
        Assert.Equal("a contribution that takes longer than 10 s to read", finding.Found);
        Assert.Contains("limits.seconds", finding.Mend, StringComparison.Ordinal);
        Assert.Equal(64, result.ContentHash.Length);
    }

    [Fact]
    public void What_was_too_costly_waits_in_the_quarantine_and_is_judged_anew_under_another_limit()
    {
        using Example example = new();
        IntakeResult first =
            Assert.Single(new Intake(example.Atlas, TenSeconds, clock: new SteppingClock(4, 8)).TakeInbox(example.Inbox, null));
        Assert.Equal((IntakeOutcome.Quarantined, FindingCode.TooCostly), (first.Outcome, Assert.Single(first.Findings).Code));

        // it is read once more, since the machine may have been overloaded; then the verdict stands, and reading is not tried night after
        // night
        SteppingClock second = new(4, 8), third = new(4, 8);
        Assert.Equal(IntakeOutcome.Quarantined,
            Assert.Single(new Intake(example.Atlas, TenSeconds, clock: second).TakeInbox(example.Inbox, null)).Outcome);
        Assert.Equal(IntakeOutcome.Quarantined,
            Assert.Single(new Intake(example.Atlas, TenSeconds, clock: third).TakeInbox(example.Inbox, null)).Outcome);
        Assert.InRange(third.Asks, 1, 8);
        Assert.True(second.Asks > third.Asks);

        Assert.Equal(IntakeOutcome.Accepted,
            Assert.Single(
                new Intake(example.Atlas, TenSeconds with { MaxSeconds = 86_400 }, clock: new SteppingClock(4, 8)).TakeInbox(example.Inbox,
                    null)).Outcome);
    }

    [Fact]
    public void What_took_too_long_in_one_overloaded_night_is_accepted_in_the_next()
    {
        using Example example = new();
        Assert.Equal(IntakeOutcome.Quarantined,
            Assert.Single(new Intake(example.Atlas, TenSeconds, clock: new SteppingClock(4, 8)).TakeInbox(example.Inbox, null)).Outcome);
        Assert.Equal(IntakeOutcome.Accepted, Assert.Single(new Intake(example.Atlas, TenSeconds).TakeInbox(example.Inbox, null)).Outcome);
    }

    [Fact]
    public void Time_that_passes_between_hashing_and_reading_does_not_count()
    {
        using Example example = new();
        SteppingClock clock = new(0, 0);
        using PackageReading reading = PackageReading.Begin(example.Copy, TenSeconds, clock: clock);
        clock.Pass(1000);
        Assert.NotNull(reading.Complete().Contribution);
    }

    private static string PathOf(Example example, string format)
    {
        string path = Path.Combine(example.Root, "made." + format);
        switch (format)
        {
            case "zip":
                return example.Zip();
            case "xlsx":
                File.WriteAllBytes(path, XlsxMaker.Example().ToBytes());
                return path;
            case "wide":
                path = Path.Combine(example.Root, "plain.csv");
                foreach (string file in Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "torture", "wide"), "plain.*"))
                    File.Copy(file, Path.Combine(example.Root, Path.GetFileName(file)));
                return path;
            default:
                return example.Copy;
        }
    }

    /// <summary>Moves on by some seconds whenever it is asked, once it was asked a number of times.</summary>
    private sealed class SteppingClock(int secondsPerAsk, int quietAsks) : TimeProvider
    {
        private long _seconds;

        public int Asks { get; private set; }

        public override long TimestampFrequency => 1;

        public void Pass(int some) => _seconds += some;

        public override long GetTimestamp()
        {
            if (++Asks > quietAsks)
                _seconds += secondsPerAsk;
            return _seconds;
        }
    }
}
