using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Schema;

/// <summary>The types of Table Schema v1 that the schema uses.</summary>
public enum FieldType
{
    Text,
    Number,
    WholeNumber,
    YesNo,
    Date,
}

/// <summary>One column of a table, as the schema document states it.</summary>
/// <param name="Ordinal">0-based place in the table.</param>
/// <param name="Unit">Unit of a number ("g", "cm", "1" for a fraction), or null.</param>
/// <param name="Minimum">Lowest allowed number; for dates see <paramref name="EarliestDate"/>.</param>
/// <param name="Pattern">The whole text must match it.</param>
/// <param name="RdfType">URI of the Darwin Core term with this meaning, or null.</param>
public sealed record FieldSchema(
    int Ordinal,
    string Name,
    FieldType Type,
    string Title,
    string Description,
    string? Unit,
    string Example,
    Uri? RdfType,
    bool Required,
    bool Unique,
    double? Minimum,
    double? Maximum,
    DateOnly? EarliestDate,
    int? MaxLength,
    string? PatternText,
    Regex? Pattern,
    IReadOnlyList<string> AllowedValues)
{
    /// <summary>Most characters of any cell, name of a column or id; what is longer is told as too long and not looked at.</summary>
    public const int LongestOfAll = 2000;

    /// <summary>Most characters of a cell of this column.</summary>
    public int Longest => MaxLength ?? LongestOfAll;
}

/// <summary>Every value of <paramref name="Field"/> must stand in <paramref name="ReferencedField"/> of
/// <paramref name="ReferencedTable"/>.</summary>
public sealed record ForeignKey(string Field, string ReferencedTable, string ReferencedField);

/// <summary>One table of the open schema, read from its Table Schema document.</summary>
public sealed class TableSchema
{
    private readonly Dictionary<string, int> _ordinals;

    internal TableSchema(
        string name,
        string title,
        string description,
        IReadOnlyList<FieldSchema> fields,
        IReadOnlyList<string> primaryKey,
        IReadOnlyList<ForeignKey> foreignKeys)
    {
        Name = name;
        Title = title;
        Description = description;
        Fields = fields;
        PrimaryKey = primaryKey;
        ForeignKeys = foreignKeys;
        ColumnNames = [.. fields.Select(field => field.Name)];
        _ordinals = fields.ToDictionary(field => field.Name, field => field.Ordinal, StringComparer.Ordinal);
    }

    public string Name { get; }

    public string Title { get; }

    public string Description { get; }

    public IReadOnlyList<FieldSchema> Fields { get; }

    /// <summary>The header of the table's file, in order.</summary>
    public IReadOnlyList<string> ColumnNames { get; }

    public IReadOnlyList<string> PrimaryKey { get; }

    public IReadOnlyList<ForeignKey> ForeignKeys { get; }

    /// <summary>0-based place of a column. The name must exist: it is asked for by code, not by data.</summary>
    public int OrdinalOf(string column) => _ordinals[column];

    /// <summary>0-based place of a column, or -1 when the table has no such column.</summary>
    public int FindOrdinal(string column) => _ordinals.GetValueOrDefault(column, -1);
}
