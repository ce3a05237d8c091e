using System.Text.Json.Serialization;

namespace DecayAtlas.Contributions.Findings;

/// <summary>One thing that is wrong with a contribution, said so that its contributor can mend it.</summary>
/// <param name="Code">Stable kebab-case code, see <see cref="FindingCode"/>.</param>
/// <param name="File">File inside the contribution, or the name of the contribution itself.</param>
/// <param name="Row">1-based number of the line in the file, or of the row of the sheet, when the finding has one.</param>
/// <param name="Column">Name of the column as the contributor wrote it, or the place in the descriptor (a JSON Pointer).</param>
/// <param name="Mend">What to do about it, as an order.</param>
public sealed record Finding(string Code, string File, int? Row, string? Column, string Found, string Expected, string Mend)
{
    /// <summary>About a whole file.</summary>
    internal Finding(string code, string file, string found, string expected, string mend)
        : this(code, file, null, null, found, expected, mend) { }

    /// <summary>Whose place is not known yet.</summary>
    internal Finding(string code, string found, string expected, string mend)
        : this(code, "", null, null, found, expected, mend) { }

    public string? Sheet { get; init; }

    /// <summary>Reference of the cell as spreadsheets write it (C12), in a workbook.</summary>
    public string? Cell { get; init; }

    /// <summary>Field of the schema that the column was mapped to, where it has another name than the column.</summary>
    public string? Field { get; init; }

    /// <summary>Whether its sentences are of the sender's language already, and not English.</summary>
    [JsonIgnore]
    public bool IsTranslated { get; init; }

    /// <summary>Whether it is told to somebody who filled in a kit, who sees a sheet with headings and no field of the schema.</summary>
    [JsonIgnore]
    public bool IsToldOfKit { get; init; }

    /// <summary>The finding without anybody's address: names of files, sheets and columns come from outside, and findings travel.</summary>
    internal Finding Masked() => this with
    {
        File = Plain(File),
        Sheet = Sheet is null ? null : Plain(Sheet),
        Column = Column is null ? null : Plain(Column),
        Found = Plain(Found),
        Expected = Plain(Expected),
        Mend = Plain(Mend),
    };

    // a quotation that was cut may end in half a letter, which no report can hold
    private static string Plain(string text) => HalfLetter.Replaced(ReceivedText.Masked(text));

    public override string ToString()
    {
        string sheet = Sheet is null ? "" : $", sheet {Sheet}";
        string row = Cell is not null ? $", cell {Cell}" : Row is null ? "" : Invariant($", row {Row}");
        string column = Column is null ? "" : $", {(File == SchemaCatalogue.DescriptorName ? "entry" : "column")} {Column}";
        string field = Field is null ? "" : $" ({Field})";
        // Names come from outside, and a control character in one could write anywhere on a terminal.
        return ReceivedText.OneLine($"{File}{sheet}{row}{column}{field}: found {Found}, expected {Expected}; {Mend}.", ' ');
    }
}
