using System.Text.Json;

namespace DecayAtlas.Contributions.Tests.Words;

/// <summary>What the schemas say in English of entries and units is said in each other language.</summary>
public class WordsOfTheSchema
{
    // the signs of the metric system are alike in all languages
    private static readonly string[] Signs = ["1", "g", "mm", "cm", "m"];

    public static TheoryData<string> Others => new(SenderWords.Known.Where(code => code != "en"));

    [Theory, MemberData(nameof(Others))]
    public void Every_entry_of_the_descriptor_has_words(string code)
    {
        Phrases words = SenderWords.Find(code)!;
        string[] meanings = [.. Meanings(SchemaCatalogue.DescriptorDocument.GetProperty("properties")),
            .. Meanings(SchemaCatalogue.DescriptorDocument.GetProperty("$defs"))];

        Assert.Contains("one file inside the contribution, written relative to datapackage.json, for example bags.csv", meanings);
        Assert.All(meanings, meaning => Assert.NotNull(EnglishSentences.In(words, "entry", meaning)));
    }

    [Theory, MemberData(nameof(Others))]
    public void Every_unit_of_a_column_has_words(string code)
    {
        Phrases words = SenderWords.Find(code)!;
        string[] units = [.. SchemaCatalogue.Tables.SelectMany(table => table.Fields).Select(field => field.Unit).OfType<string>()
            .Except(Signs)];

        Assert.Contains("copies per g dry litter", units);
        Assert.All(units, unit => Assert.NotNull(words.FindText("rule.in." + unit)));
    }

    private static IEnumerable<string> Meanings(JsonElement node) => node.ValueKind switch
    {
        JsonValueKind.Object => node.EnumerateObject().SelectMany(Meanings),
        JsonValueKind.Array => node.EnumerateArray().SelectMany(Meanings),
        _ => [],
    };

    private static IEnumerable<string> Meanings(JsonProperty part) =>
        part is { Name: "description", Value.ValueKind: JsonValueKind.String } ? [part.Value.GetString()!] : Meanings(part.Value);
}
