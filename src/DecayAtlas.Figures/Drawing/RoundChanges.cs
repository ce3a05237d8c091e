using System.Globalization;

namespace DecayAtlas.Figures.Drawing;

/// <summary>Round marks of a change, as far below none as above it; the last of either side lies at what they are asked to span or next
/// beyond it, so that both ends of a scale can be read.</summary>
public static class RoundChanges
{
    /// <summary>What a number may be beyond a mark through rounding alone, as a part of it.</summary>
    private const double Rounding = 1e-6;

    /// <summary>Marks above 1, of scales that end at ever larger ratios.</summary>
    private static readonly double[][] Ratios =
    [
        [1.01], [1.01, 1.02], [1.02, 1.05], [1.05, 1.1], [1.1, 1.25], [1.25, 1.5], [1.25, 1.5, 2], [1.5, 2, 3], [2, 5], [2, 5, 10],
    ];

    private const double SmallestDifference = 0.01;

    private static readonly double[] Leads = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

    /// <summary>ln of round ratios and what is written beside them, from one over the largest to the largest.</summary>
    /// <param name="side">ln of the ratio to span, 0 or more; below 1.01 the marks end at 1.01.</param>
    public static IReadOnlyList<(double Value, string Label)> OfRatios(double side)
    {
        double ratio = Math.Exp(side) / (1 + Rounding);
        double[] above = Ratios.FirstOrDefault(r => r[^1] >= ratio)
            ?? [.. Enumerable.Range(1, (int)Math.Ceiling(Math.Log10(ratio))).Select(power => Math.Pow(10, power))];
        return
        [
            .. above.Reverse().Select(r => (-Math.Log(r), (1 / r).ToString("G2", CultureInfo.InvariantCulture))), (0, "1"),
            .. above.Select(r => (Math.Log(r), r.ToString("0.##", CultureInfo.InvariantCulture))),
        ];
    }

    /// <summary>Round differences and what is written beside them: none, an end on either side and half of it.</summary>
    /// <param name="side">To span, 0 or more; below 0.01 the marks end at 0.01.</param>
    public static IReadOnlyList<(double Value, string Label)> OfDifferences(double side)
    {
        double spanned = Math.Max(side / (1 + Rounding), SmallestDifference);
        double power = Math.Pow(10, Math.Floor(Math.Log10(spanned) + Rounding));
        double end = Leads.First(lead => lead * power >= spanned) * power;
        return [.. new[] { -end, -end / 2, 0, end / 2, end }.Select(v => (v, v.ToString("0.######", CultureInfo.InvariantCulture)))];
    }
}
