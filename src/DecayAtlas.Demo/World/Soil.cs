namespace DecayAtlas.Demo.World;

/// <summary>Soil texture and reaction: parent rock from noise, leaching from rain, young coarse soils in the mountains.</summary>
internal sealed class Soil
{
    public Soil(int seed, Field elevation, Field precipitation)
    {
        Noise rock = new(seed, "rock");
        Noise lime = new(seed, "lime");

        ClayPercent = Field.Of((column, row) =>
        {
            double x = InventedRegion.LongitudeOf(column), y = InventedRegion.LatitudeOf(row);
            double share = 26 + (42 * rock.Fractal(x * 1.1, y * 1.1, 5)) - (0.006 * elevation[column, row]);
            return SoftBound(share, 4, 58);
        });

        ReactionPh = Field.Of((column, row) =>
        {
            double x = InventedRegion.LongitudeOf(column), y = InventedRegion.LatitudeOf(row);
            double leached = 6.4 - (1.2 * Math.Log(precipitation[column, row] / 600));
            return SoftBound(leached + (2.2 * lime.Fractal(x * 0.9, y * 0.9, 4)), 3.8, 8.3);
        });
    }

    /// <summary>Clay share of the fine earth, percent by mass.</summary>
    public Field ClayPercent { get; }

    /// <summary>Soil pH in water.</summary>
    public Field ReactionPh { get; }

    // A smooth squeeze rather than a cut: a hard limit would paint flat patches on the map.
    private static double SoftBound(double value, double low, double high) =>
        low + ((high - low) / (1 + Math.Exp(-4 * ((value - low) / (high - low) - 0.5))));
}
