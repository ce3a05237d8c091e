using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Tests.Words;

public partial class SenderWordsTests
{
    public static TheoryData<string> Known => new(SenderWords.Known);

    [Fact]
    public void Senders_are_spoken_to_in_four_languages() => Assert.Equal(["de", "en", "es", "fr"], SenderWords.Known);

    [Theory]
    [MemberData(nameof(Known))]
    public void A_language_has_every_text_with_the_same_holes(string code)
    {
        IReadOnlyDictionary<string, string> english = SenderWords.In("en")!, other = SenderWords.In(code)!;

        Assert.Equal(english.Keys.Order(StringComparer.Ordinal), other.Keys.Order(StringComparer.Ordinal));
        Assert.All(english, text => Assert.Equal(Holes(text.Value), Holes(other[text.Key])));
    }

    private static IEnumerable<string> Holes(string text) =>
        Hole().Matches(text).Select(match => match.Value).Distinct().Order(StringComparer.Ordinal);

    [GeneratedRegex(@"\{\d\}", RegexOptions.NonBacktracking)]
    private static partial Regex Hole();

    // long dates as the Unicode CLDR has them (from memory)
    [Theory]
    [InlineData("en", "15 April 2026", "1 March 2026")]
    [InlineData("de", "15. April 2026", "1. März 2026")]
    [InlineData("es", "15 de abril de 2026", "1 de marzo de 2026")]
    [InlineData("fr", "15 avril 2026", "1er mars 2026")]
    public void A_day_is_written_as_people_write_it(string language, string day, string first)
    {
        Phrases words = SenderWords.Find(language)!;

        Assert.Equal((day, first), (words.Day(new DateOnly(2026, 4, 15)), words.Day(new DateOnly(2026, 3, 1))));
        Assert.Equal($"({day}; 2026-13-40)", words.WithDays("(2026-04-15; 2026-13-40)"));
    }
}
