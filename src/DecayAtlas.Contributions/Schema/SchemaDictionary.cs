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
            text.Append($"""
                ### {table.Title} (`{table.Name}`)

                {table.Description}

                | column | type | unit | required | allowed values | meaning | example | standard term |
                | --- | --- | --- | --- | --- | --- | --- | --- |

                """);
            foreach (FieldSchema field in table.Fields)
            {
                string required = field.Required ? "yes" : "";
                text.Append($"| `{field.Name}` | {TypeName(field.Type)} | {field.Unit} | {required} | {Allowed(field)} ")
                    .Append($"| {Cell(field.Description)} | {Cell(field.Example)} | {Term(field)} |\n");
            }
            text.Append($"\nKey: {string.Join(", ", table.PrimaryKey.Select(name => $"`{name}`"))}.");
            foreach (ForeignKey key in table.ForeignKeys)
                text.Append($" `{key.Field}` names a row of `{key.ReferencedTable}`.");
            text.Append("\n\n");
        }
        return text.ToString().TrimEnd('\n') + "\n";
    }

    private static void AppendDescriptor(StringBuilder text)
    {
        JsonElement root = SchemaCatalogue.DescriptorDocument;
        string[] required = [.. root.GetProperty("required").EnumerateArray().Select(name => name.GetString()!)];
        text.Append($"""
            ### Descriptor (`{SchemaCatalogue.DescriptorName}`)

            {root.GetProperty("description").GetString()}

            | property | required | meaning |
            | --- | --- | --- |

            """);
        foreach (JsonProperty property in root.GetProperty("properties").EnumerateObject())
        {
            string meaning = Cell(property.Value.GetProperty("description").GetString()!);
            text.Append($"| `{property.Name}` | {(required.Contains(property.Name) ? "yes" : "")} | {meaning} |\n");
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
        if (field.IsOpen)
            return string.Join(", ", field.Choices) + Longest(field, "; or a word of your own, ");
        if (field.PatternText is not null)
            return "`" + field.PatternText.Replace("|", "\\|", StringComparison.Ordinal) + "`" + Longest(field, ", ");
        if (field.EarliestDate is { } day)
            return Invariant($"from {day:yyyy-MM-dd}");
        return (field.Minimum, field.Maximum) switch
        {
            ({ } low, { } high) => Invariant($"{low} to {high}"),
            ({ } low, null) => Invariant($"{low} or more"),
            (null, { } high) => Invariant($"{high} or less"),
            _ => field.Type == FieldType.YesNo ? "yes, no" : Longest(field, ""),
        };
    }

    private static string Longest(FieldSchema field, string before) =>
        field.MaxLength is { } length ? Invariant($"{before}up to {length} characters") : "";

    private static string Term(FieldSchema field) =>
        field.RdfType is { } term ? $"[{(term.AbsolutePath.StartsWith("/mixs/", StringComparison.Ordinal) ? "MIXS:" : "")}"
            + $"{term.Segments[^1]}]({term})" : "";

    private static string Cell(string text) =>
        text.Replace("|", "\\|", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal);
}
