using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Tests;

public partial class Languages
{
    public static TheoryData<string> All => new(Language.Known);

    [Theory, MemberData(nameof(All))]
    public void Every_language_says_all_that_English_says_with_the_same_holes(string code)
    {
        IReadOnlyDictionary<string, string> english = Language.Find("en")!.All, other = Language.Find(code)!.All;

        Assert.Equal(english.Keys.Order(StringComparer.Ordinal),
            other.Keys
                .Where(k => (!k.StartsWith("flag.", StringComparison.Ordinal) || k.EndsWith(".title", StringComparison.Ordinal))
                    && !k.StartsWith("quoted.", StringComparison.Ordinal)
                    && !k.StartsWith("card.", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        foreach ((string key, string text) in english)
        {
            Assert.Equal(Holes(text), Holes(other[key]));
            Assert.Equal(text.Contains('*', StringComparison.Ordinal), other[key].Contains('*', StringComparison.Ordinal));
            Assert.False(string.IsNullOrEmpty(other[key]), key);
        }
    }

    [Theory, MemberData(nameof(All))]
    public void Every_released_table_and_column_is_explained_in_every_language_and_nothing_else(string code)
    {
        ColumnWords words = ColumnWords.Of(Language.Find(code)!);
        (string Table, string? Column, string English)[] said =
            [.. AtlasTables.All
                .SelectMany(t => t.ColumnInfos.Select(c => (t.Name, (string?)c.Name, c.Description))
                    .Prepend((t.Name, null, t.Description)))];
        Assert.Empty(code == "en" ? [] : said.Where(s => words.KeyOf(s.Table, s.Column) is null));
        Assert.Equal(
            said.Select(s => words.KeyOf(s.Table, s.Column)).OfType<string>().Distinct().Order(StringComparer.Ordinal),
            words.Known.Order(StringComparer.Ordinal));
        // one translation for several columns only where English says the same of them
        Assert.All(
            said.Where(s => words.KeyOf(s.Table, s.Column) is not null).GroupBy(s => words.KeyOf(s.Table, s.Column)),
            key => Assert.Single(key.Select(s => s.English).Distinct()));
    }

    /// <summary>A group is ihr, usted or vous on every page; what is not said to anybody has no form of address.</summary>
    [Theory]
    [InlineData("de", @"[\p{Ll},] (Sie|Ihr|Ihnen|Ihre[mnrs]?)\b|Zersetzungsrate|\b(Los|Loses|Lose)\b|Kurator")]
    [InlineData("es", @"\b(sois|habéis|vuestr[oa]s?|vosotros|ustedes|tú|tu|tus)\b|bolsita")]
    [InlineData("fr", @"\b(tu|ton|tes|toi)\b|responsables|écart-type|seconde pesée")]
    public void A_reader_has_one_form_of_address_and_a_thing_one_name(string code, string unused)
    {
        Regex other = new(unused, RegexOptions.NonBacktracking);
        Assert.Empty(Language.Find(code)!.All.Where(text => other.IsMatch(text.Value)).Select(text => $"{text.Key}: {text.Value}"));
    }

    [Theory, MemberData(nameof(All))]
    public void No_key_stands_twice_in_a_file(string code)
    {
        foreach (string name in new[] { $"texts/{code}.json", $"dictionary/{code}.json" })
        {
            if (typeof(Language).Assembly.GetManifestResourceStream(name) is { } file)
                Assert.NotEmpty(JsonSerializer.Deserialize<Dictionary<string, string>>(file, JsonSerializerOptions.Strict)!);
        }
    }

    [Fact]
    public void Numbers_are_written_as_the_language_writes_them()
    {
        Language german = Language.Find("de")!, english = Language.Find("en")!;
        Assert.Equal("0,0123", german.Rate(0.01234));
        Assert.Equal("−1.5", english.Number(-1.5, "0.0"));
        Assert.Equal("0.000", english.Number(-0.0001, "0.000"));
        Assert.Equal("12,345", english.Count(12345));
        Assert.Equal("0.0124", english.Number(0.012368));
        Assert.Equal("–", english.Number(null));
        Assert.Equal("–", english.Number(double.NaN, "0.0"));
        Assert.Equal("25 %", english.Percent(0.251));
    }

    private static IEnumerable<string> Holes(string text) =>
        Hole().Matches(text).Select(m => m.Value).Distinct().Order(StringComparer.Ordinal);

    [GeneratedRegex(@"\{\d\}")]
    private static partial Regex Hole();
}
