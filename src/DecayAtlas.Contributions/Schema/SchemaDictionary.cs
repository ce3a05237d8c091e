using System.Text;
using System.Text.Json;

namespace DecayAtlas.Contributions.Schema;

/// <summary>The part of the data dictionary that describes what contributors send, made from the schema documents.</summary>
public static class SchemaDictionary
{
    /// <summary>Markdown, one section (<c>###</c>) for the descriptor and one a table.</summary>
    public static string ToMarkdown()
    {
        StringBuilder text = new();
        AppendDescriptor(text);
        foreach (TableSchema table in SchemaCatalogue.Tables)
        {
            text.Append("### ").Append(table.Title).Append(" (`").Append(table.Name).Append("`)\n\n").Append(table.Description)
                .Append("\n\n");
            text.Append("| column | type | unit | required | allowed values | meaning | example | Darwin Core term |\n");
            text.Append("| --- | --- | --- | --- | --- | --- | --- | --- |\n");
            foreach (FieldSchema field in table.Fields)
            {
                text.Append("| `").Append(field.Name).Append("` | ").Append(TypeName(field.Type)).Append(" | ").Append(field.Unit ?? "")
                    .Append(" | ");
                text.Append(field.Required ? "yes" : "").Append(" | ").Append(Allowed(field)).Append(" | ").Append(Cell(field.Description))
                    .Append(" | ");
                text.Append(Cell(field.Example)).Append(" | ").Append(Term(field)).Append(" |\n");
            }
            text.Append('\n').Append("Key: ").Append(string.Join(", ", table.PrimaryKey.Select(name => $"`{name}`"))).Append('.');
            foreach (ForeignKey key in table.ForeignKeys)
                text.Append(" `").Append(key.Field).Append("` names a row of `").Append(key.ReferencedTable).Append("`.");
            text.Append("\n\n");
        }
        return text.ToString().TrimEnd('\n') + "\n";
    }

    private static void AppendDescriptor(StringBuilder text)
    {
        using JsonDocument profile = JsonDocument.Parse(SchemaCatalogue.Text("contribution"));
        JsonElement root = profile.RootElement;
        string[] required = [.. root.GetProperty("required").EnumerateArray().Select(name => name.GetString()!)];
        text.Append("### Descriptor (`").Append(SchemaCatalogue.DescriptorName).Append("`)\n\n")
            .Append(root.GetProperty("description").GetString()).Append("\n\n");
        text.Append("| property | required | meaning |\n| --- | --- | --- |\n");
        foreach (JsonProperty property in root.GetProperty("properties").EnumerateObject())
        {
            text.Append("| `").Append(property.Name).Append("` | ").Append(required.Contains(property.Name) ? "yes" : "").Append(" | ");
            text.Append(Cell(property.Value.GetProperty("description").GetString()!)).Append(" |\n");
        }
        text.Append('\n');
    }

    private static string TypeName(FieldType type) => type switch
    {
        FieldType.Number => "number",
        FieldType.WholeNumber => "whole number",
        FieldType.YesNo => "yes/no",
        FieldType.Date => "date",
        _ => "text",
    };

    private static string Allowed(FieldSchema field)
    {
        if (field.AllowedValues.Count > 0)
            return string.Join(", ", field.AllowedValues);
        if (field.PatternText is not null)
            return "`" + field.PatternText.Replace("|", "\\|", StringComparison.Ordinal) + "`" + Longest(field, ", ");
        if (field.EarliestDate is { } day)
            return FormattableString.Invariant($"from {day:yyyy-MM-dd}");
        return (field.Minimum, field.Maximum) switch
        {
            ({ } low, { } high) => FormattableString.Invariant($"{low} to {high}"),
            ({ } low, null) => FormattableString.Invariant($"{low} or more"),
            (null, { } high) => FormattableString.Invariant($"{high} or less"),
            _ => field.Type == FieldType.YesNo ? "yes, no" : Longest(field, ""),
        };
    }

    private static string Longest(FieldSchema field, string before) =>
        field.MaxLength is { } length ? FormattableString.Invariant($"{before}up to {length} characters") : "";

    private static string Term(FieldSchema field) =>
        field.RdfType is { } term ? $"[{term.Segments[^1]}]({term})" : "";

    private static string Cell(string text) =>
        text.Replace("|", "\\|", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal);
}
