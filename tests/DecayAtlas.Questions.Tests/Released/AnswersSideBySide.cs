using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Questions.Tests.Released;

/// <summary>The answers of a release are asked side by side, and are those of asking one after the other, to the last digit.</summary>
public class AnswersSideBySide
{
    /// <summary>A release of which a burial of every other row is noted.</summary>
    private sealed class WithNotes(InventedRelease release) : IReleasedRows
    {
        private int _siteCampaignsAsked;

        public int SiteCampaignsAsked => _siteCampaignsAsked;

        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class
        {
            if (table.Name == AtlasTables.SiteCampaigns.Name)
                Interlocked.Increment(ref _siteCampaignsAsked);
            return table.Name != AtlasTables.Noted.Name ? release.Rows(table)
                : [.. release.Rows(AtlasTables.Plots).Where((p, i) => i % 2 == 0 && p.Burials > 2).Select(NoteOf).Cast<TRow>()];
        }

        private static ReleasedNoted NoteOf(ReleasedPlot plot, int i) => new()
        {
            ContributionId = "g-1",
            BurialId = $"n{i}",
            SiteKey = plot.SiteKey,
            Campaign = plot.Campaign,
            Treatment = plot.Treatment,
            ErrorSet = plot.ErrorSet,
            Use = "accepted",
            RatePerDay = Math.Exp(plot.LnRateMean!.Value + 0.1),
            Stabilisation = plot.StabilisationMean,
            Because = "surprise",
        };
    }

    private static ReleaseAnswers AnswersOf(IReleasedRows release) => ReleaseAnswers.Of(release, EvidenceChoice.Usual);

    private static string Text<T>(T rows) => JsonSerializer.Serialize(rows);

    [Fact]
    public void A_question_asked_among_others_is_answered_as_by_itself()
    {
        WithNotes release = new(new InventedRelease(5, 24, spread: 0.4));
        ReleaseAnswers answers = AnswersOf(release);
        foreach (string by in GroupQuestion.Groupings)
        {
            // rates of its own, so that no other question's model is there to start from
            ReleasedRates rates = new(release);
            foreach (AskedOf of in Enum.GetValues<AskedOf>())
            {
                GroupAnswer all = GroupQuestion.Ask(rates, by, [], of), without = GroupQuestion.Ask(rates.WithoutNoted, by, [], of);
                Assert.Equal(RatiosOf(all), RatiosOf(answers, by, of, NotedUse.All));
                Assert.Equal(RatiosOf(without), RatiosOf(answers, by, of, NotedUse.Without));
                Assert.NotEqual(RatiosOf(all), RatiosOf(without));
            }
        }
    }

    private static string[] RatiosOf(GroupAnswer answer) => [.. answer.Pairs.Select(p => TextOf(p.First, p.Second, p.Contrast))];

    private static string[] RatiosOf(ReleaseAnswers answers, string by, AskedOf of, string records) =>
    [
        .. answers.Comparisons.Where(c => c.By == by && c.Of == of.Code() && c.Records == records && c.First is not null)
            .Select(c => TextOf(c.First, c.Second, c.Ratio ?? c.Difference)),
    ];

    private static string TextOf(string? first, string? second, double? contrast) =>
        string.Create(CultureInfo.InvariantCulture, $"{first} {second} {contrast:R}");

    [Fact]
    public void The_same_release_is_answered_the_same_every_time_and_its_site_campaigns_are_read_once()
    {
        WithNotes release = new(new InventedRelease(6, 24, spread: 0.4));
        string first = Text(AnswersOf(release));
        Assert.Equal(1, release.SiteCampaignsAsked);
        Assert.All(Enumerable.Range(0, 3), _ => Assert.Equal(first, Text(AnswersOf(release))));
    }
}
