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

/// <param name="Unit">Unit of a number ("g", "cm", "1" for a fraction), or null.</param>
/// <param name="Minimum">Lowest allowed number; for dates see <paramref name="EarliestDate"/>.</param>
/// <param name="RdfType">URI of the term of an open standard with this meaning (Darwin Core, MIxS), or null.</param>
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

    public int Longest => MaxLength ?? LongestOfAll;

    /// <summary>The words of the vocabulary that the column has; null for other columns.</summary>
    public WordList? Words { get; init; }

    /// <summary>Whether it takes words of the sender's own beside those of the vocabulary.</summary>
    public bool IsOpen => Words is not null && AllowedValues.Count == 0;

    /// <summary>Whether it is one half of a position, which people write with N, S, E and W.</summary>
    public bool IsCoordinate => Name is "decimal_latitude" or "decimal_longitude";

    /// <summary>The words to choose from, whether or not others are taken too.</summary>
    public IReadOnlyList<string> Choices => AllowedValues.Count > 0 ? AllowedValues : Words?.Names ?? [];

    /// <summary>What is wrong with a cell of it whose file and row are not known yet.</summary>
    internal Finding Fault(string code, string found, string expected, string mend) => new(code, "", null, Name, found, expected, mend);
}

/// <summary>Every value of <paramref name="Field"/> must stand in <paramref name="ReferencedField"/> of
/// <paramref name="ReferencedTable"/>.</summary>
public sealed record ForeignKey(string Field, string ReferencedTable, string ReferencedField);

/// <summary>One table of the open schema, read from its Table Schema document.</summary>
public sealed record TableSchema(string Name, string Title, string Description, IReadOnlyList<FieldSchema> Fields,
    IReadOnlyList<string> PrimaryKey, IReadOnlyList<ForeignKey> ForeignKeys)
{
    private readonly Dictionary<string, int> _ordinals = Fields.ToDictionary(field => field.Name, field => field.Ordinal);

    /// <summary>In the order of the file.</summary>
    public IReadOnlyList<string> ColumnNames { get; } = [.. Fields.Select(field => field.Name)];

    /// <summary>0-based place of a column. The name must exist: it is asked for by code, not by data.</summary>
    public int OrdinalOf(string column) => _ordinals[column];

    /// <summary>0-based place of a column, or -1 when the table has no such column.</summary>
    public int FindOrdinal(string column) => _ordinals.GetValueOrDefault(column, -1);
}
