namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>What a person may get wrong in a mapping about rows, empty bags and days: one sentence at its line.</summary>
public class WrongMappings
{
    private static readonly string Table = AskedSheet.Head("Empty bag (g),Before (g),After (g)")
        + AskedSheet.Bags("1", "0.35,2.40,1.30", "0.42,2.60,1.99") + AskedSheet.Bags("2", "0.38,2.44,1.42", "0.41,2.56,2.10");

    [Theory]
    [InlineData("buried_on: { column: \"Buried\"", "buried_on: { column: \"Buried\", less: { column: \"Days\" }", "bags.buried_on",
        "less only for")]
    [InlineData("mass_basis: { value: \"litter\"", "mass_basis: { value: \"litter\", rows: { \"2\": { a: \"gross\" } }", "bags.mass_basis",
        "rows only beside column")]
    [InlineData("buried_on: [\"2025-04-20\", \"2025-06-10\"]", "buried_on: [\"2025-06-10\", \"2025-04-20\"]", "expected.buried_on",
        "a first and a last day")]
    [InlineData("buried_on: [\"2025-04-20\", \"2025-06-10\"]", "buried_on: [\"2025-04-31\", \"2025-06-10\"]", "expected.buried_on",
        "a first and a last day")]
    [InlineData("less: { column: \"Empty bag (g)\"", "less: { unit: \"mm\", column: \"Empty bag (g)\"", "bags.mass_initial_g", "one of")]
    [InlineData("buried_on: { column: \"Buried\"", "buried_on: { column: \"Buried\", form: mass-share", "bags.buried_on",
        "form: mass-share only for ash_fraction")]
    [InlineData("buried_on: { column: \"Buried\"", "buried_on: { column: \"Buried\", of: { column: \"Hole\" }", "bags.buried_on",
        "of: only beside it")]
    public void Is_told_in_one_sentence_at_its_place(string right, string wrong, string column, string expected)
    {
        string file = AskedSheet.FileOf(Table), mapping = AskedSheet.Ask(Table).Mapping!;
        Assert.Contains(right, mapping, StringComparison.Ordinal);

        Finding finding = AskedSheet.Read(file, mapping.Replace(right, wrong, StringComparison.Ordinal)).Findings[0];

        Assert.Equal((FindingCode.MappingBroken, column), (finding.Code, finding.Column));
        Assert.Contains(expected, finding.Expected, StringComparison.Ordinal);
        Assert.NotNull(finding.Row);
    }

    [Fact]
    public void An_empty_bag_that_is_known_of_neither_bag_nor_lot_leaves_no_mass()
    {
        string table = Table.Replace("0.38,", ",", StringComparison.Ordinal);
        string mapping = AskedSheet.Ask(table).Mapping!;
        int from = mapping.IndexOf(", or: [", StringComparison.Ordinal);
        string without = mapping.Replace(mapping[from..(mapping.IndexOf(']', from) + 1)], "", StringComparison.Ordinal);

        Finding finding = AskedSheet.Read(AskedSheet.FileOf(table), without).Findings[0];

        Assert.Equal((FindingCode.ValueMissing, 4), (finding.Code, finding.Row));
        Assert.Contains("empty bag", finding.Expected, StringComparison.Ordinal);
    }
}
