namespace DecayAtlas.Demo.World;

/// <summary>Soil texture and reaction: parent rock from noise, leaching from rain, young coarse soils in the mountains.</summary>
internal static class Soil
{
    /// <summary>Clay share of the fine earth, percent by mass.</summary>
    public static Field ClayPercent(int seed, Field elevation)
    {
        Noise rock = new(seed, "rock");
        return Field.Of((column, row, x, y) =>
            SoftBound(26 + (42 * rock.Fractal(x * 1.1, y * 1.1, 5)) - (0.006 * elevation[column, row]), 4, 58));
    }

    /// <summary>Soil pH in water.</summary>
    public static Field Ph(int seed, Field precipitation)
    {
        Noise lime = new(seed, "lime");
        return Field.Of((column, row, x, y) =>
        {
            double leached = 6.4 - (1.2 * Math.Log(precipitation[column, row] / 600));
            return SoftBound(leached + (2.2 * lime.Fractal(x * 0.9, y * 0.9, 4)), 3.8, 8.3);
        });
    }

    // A smooth squeeze rather than a cut: a hard limit would paint flat patches on the map.
    private static double SoftBound(double value, double low, double high) =>
        low + ((high - low) / (1 + Math.Exp(-4 * ((value - low) / (high - low) - 0.5))));
}
