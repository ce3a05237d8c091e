using System.Globalization;
using System.Text;

namespace DecayAtlas.Prediction.Cards;

/// <summary>Lines of Markdown, with a real minus sign in tables. The build knows no culture but the invariant one.</summary>
internal sealed class CardText
{
    private readonly StringBuilder _text = new();

    public void Line(string? line = null) => _text.Append(line).Append('\n');

    public void Paragraph(string line)
    {
        Line(line);
        Line();
    }

    public void Table(string head, string alignment, IEnumerable<string> rows)
    {
        Line(head);
        Line(alignment);
        foreach (string row in rows)
            Line(row);
        Line();
    }

    public override string ToString() => _text.ToString().TrimEnd('\n') + "\n";

    public static string Signed(double value) => value.ToString("+0.000;−0.000;0.000", CultureInfo.InvariantCulture);

    public static string Number(double value, string format = "0.000") =>
        double.IsNaN(value) ? "–" : double.IsInfinity(value) ? "∞" : value.ToString(format, CultureInfo.InvariantCulture).Replace('-', '−');

    public static string Share(double value) => value.ToString("0 %", CultureInfo.InvariantCulture).Replace('-', '−');

    public static string Date(DateOnly date) => Invariant($"{date:yyyy-MM-dd}");

    public static string Degrees(double value, char positive, char negative) =>
        Invariant($"{Math.Abs(value):0.00}° {(value < 0 ? negative : positive)}");
}
