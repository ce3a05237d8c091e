using System.Diagnostics;

namespace DecayAtlas.EndToEnd;

/// <summary>About a hundred contributions with one enormous text each, in every format and place: one of them alone once stalled a
/// night.</summary>
public sealed class NightWithHostileCells : NightWork
{
    [Fact]
    public void It_ends_tells_each_of_them_and_takes_in_what_is_sound()
    {
        IReadOnlyList<string> hostile = HostileCells.Write(Work.PathOf("inbox"), Project.PathOf("schemas/v1/example"), 100_000);
        Assert.True(hostile.Count >= 100, $"{hostile.Count} contributions");
        GivenContribution("sound", "sound-school");
        GivenConfiguration("pages: { title: Hostile }\n");

        // far above what it takes (seconds), far below what one of them took before (minutes, or no end)
        Stopwatch clock = Stopwatch.StartNew();
        (int code, string text) = Run("run");
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, TimeSpan.FromMinutes(2));

        Assert.Equal(1, code);
        Assert.DoesNotContain("made a mistake", text, StringComparison.Ordinal);
        Assert.Contains("sound", new ReleaseReader(new AtlasFolder(Work.PathOf("atlas"))).Rows(AtlasTables.Contributions)
            .Select(c => c.ContributionId));
        Assert.True(new DirectoryInfo(Work.PathOf("atlas/runs")).GetFiles().Sum(f => f.Length) < 1 << 20,
            "what a run tells of itself grew with what was received");
    }
}
