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
}
