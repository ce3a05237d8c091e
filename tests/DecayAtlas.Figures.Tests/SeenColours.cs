namespace DecayAtlas.Figures.Tests;

/// <summary>Colours as eyes take them: how far apart for each colour vision, and how light.</summary>
internal static class SeenColours
{
    /// <summary>What each colour vision makes of linear sRGB: Machado, Oliveira and Fernandes (2009), IEEE Trans. Vis. Comput. Graph.
    /// 15:1291-1298, table 1, severity 1.0.</summary>
    public static readonly IReadOnlyDictionary<string, double[][]> Visions = new Dictionary<string, double[][]>
    {
        ["normal"] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
        ["without red"] = [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
        ["without green"] = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
        ["without blue"] = [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    };

    /// <summary>CIE 1976 L*a*b* of an sRGB colour (IEC 61966-2-1) as somebody of that vision sees it.</summary>
    public static double[] Lab(string colour, double[][] seen)
    {
        double[] linear = Linear(colour), rgb = [.. seen.Select(row => Math.Clamp(row.Zip(linear, (m, v) => m * v).Sum(), 0, 1))];
        double x = F((0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2]) / 0.95047),
            y = F(0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]),
            z = F((0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2]) / 1.08883);
        return [116 * y - 16, 500 * (x - y), 200 * (y - z)];

        static double F(double t) => t > 0.008856 ? Math.Cbrt(t) : 7.787 * t + 16 / 116.0;
    }

    public static double Apart(string one, string other, double[][] seen) =>
        Math.Sqrt(Lab(one, seen).Zip(Lab(other, seen), (a, b) => (a - b) * (a - b)).Sum());

    /// <summary>Contrast ratio of WCAG 2.2 (W3C 2023), from 1 to 21.</summary>
    public static double Contrast(string one, string other)
    {
        double a = Luminance(one), b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);

        static double Luminance(string colour) =>
            Linear(colour) is [var red, var green, var blue] ? 0.2126 * red + 0.7152 * green + 0.0722 * blue : double.NaN;
    }

    private static double[] Linear(string colour) => [.. new[] { 1, 3, 5 }.Select(i => Convert.ToInt32(colour.Substring(i, 2), 16) / 255.0)
        .Select(v => v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4))];
}
