using System.Globalization;
using System.Text;

namespace DecayAtlas.Prediction;

/// <summary>Lines of Markdown, numbers in the invariant culture, with a real minus sign in tables.</summary>
internal sealed class CardText
{
    private readonly StringBuilder text = new();

    public void Line(FormattableString? line = null) => text.Append(line?.ToString(CultureInfo.InvariantCulture)).Append('\n');

    public void Paragraph(FormattableString line)
    {
        Line(line);
        Line();
    }

    public void Table(string head, string alignment, IEnumerable<FormattableString> rows)
    {
        Line($"{head}");
        Line($"{alignment}");
        foreach (var row in rows)
            text.Append(row.ToString(CultureInfo.InvariantCulture)).Append('\n');
        Line();
    }

    public override string ToString() => text.ToString().TrimEnd('\n') + "\n";

    public static string Signed(double value) => value.ToString("+0.000;−0.000;0.000", CultureInfo.InvariantCulture);

    public static string Number(double value, string format = "0.000") =>
        double.IsNaN(value) ? "–" : double.IsInfinity(value) ? "∞" : value.ToString(format, CultureInfo.InvariantCulture).Replace('-', '−');

    public static string Share(double value) => value.ToString("0 %", CultureInfo.InvariantCulture).Replace('-', '−');

    public static string Count(int n, string what) => string.Create(CultureInfo.InvariantCulture, $"{n} {what}{(n == 1 ? "" : "s")}");

    public static string Date(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string Degrees(double value, char positive, char negative) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(value):0.00}° {(value < 0 ? negative : positive)}");
}
