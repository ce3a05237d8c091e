using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Findings;

/// <summary>One thing that is wrong with a contribution, said so that its contributor can mend it.</summary>
/// <param name="Code">Stable kebab-case code, see <see cref="FindingCode"/>.</param>
/// <param name="File">File inside the contribution, or the name of the contribution itself.</param>
/// <param name="Row">1-based number of the line in the file, or of the row of the sheet, when the finding has one.</param>
/// <param name="Column">Name of the column as the contributor wrote it, or the place in the descriptor (a JSON Pointer).</param>
/// <param name="Found">What was found.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="Mend">What to do about it, as an order.</param>
public sealed record Finding(string Code, string File, int? Row, string? Column, string Found, string Expected, string Mend)
{
    /// <summary>Name of the sheet, in a workbook.</summary>
    public string? Sheet { get; init; }

    /// <summary>Reference of the cell as spreadsheets write it (C12), in a workbook.</summary>
    public string? Cell { get; init; }

    /// <summary>Field of the schema that the column was mapped to, where it has another name than the column.</summary>
    public string? Field { get; init; }

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

    /// <summary>The finding as one sentence: place, found, expected, how to mend.</summary>
    public override string ToString()
    {
        StringBuilder sentence = new(File);
        if (Sheet is not null)
            sentence.Append(CultureInfo.InvariantCulture, $", sheet {Sheet}");
        if (Cell is not null)
            sentence.Append(CultureInfo.InvariantCulture, $", cell {Cell}");
        else if (Row is { } row)
            sentence.Append(CultureInfo.InvariantCulture, $", row {row}");
        if (Column is not null)
            sentence.Append(CultureInfo.InvariantCulture, $", {(File == SchemaCatalogue.DescriptorName ? "entry" : "column")} {Column}");
        if (Field is not null)
            sentence.Append(CultureInfo.InvariantCulture, $" ({Field})");
        sentence.Append(CultureInfo.InvariantCulture, $": found {Found}, expected {Expected}; {Mend}.");
        // Names come from outside, and a control character in one could write anywhere on a terminal.
        for (int i = 0; i < sentence.Length; i++)
        {
            if (ReceivedText.IsHostile(sentence[i]))
                sentence[i] = ' ';
        }
        return sentence.ToString();
    }
}
