using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>One thing that is wrong with a contribution, said so that its contributor can mend it.</summary>
/// <param name="Code">Stable kebab-case code, see <see cref="FindingCode"/>.</param>
/// <param name="File">File inside the contribution, or the name of the contribution itself.</param>
/// <param name="Row">1-based line number in the file, when the finding has one.</param>
/// <param name="Column">Name of the column, or the place in the descriptor (a JSON Pointer).</param>
/// <param name="Found">What was found.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="Mend">What to do about it, as an order.</param>
public sealed record Finding(string Code, string File, int? Row, string? Column, string Found, string Expected, string Mend)
{
    /// <summary>The finding as one sentence: place, found, expected, how to mend.</summary>
    public override string ToString()
    {
        StringBuilder sentence = new(File);
        if (Row is { } row)
            sentence.Append(CultureInfo.InvariantCulture, $", row {row}");
        if (Column is not null)
            sentence.Append(CultureInfo.InvariantCulture, $", column {Column}");
        sentence.Append(CultureInfo.InvariantCulture, $": found {Found}, expected {Expected}; {Mend}.");
        return sentence.ToString();
    }
}
