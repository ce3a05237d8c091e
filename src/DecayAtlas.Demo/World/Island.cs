namespace DecayAtlas.Demo.World;

/// <summary>
/// The shape of the land: a long main island with a mountain spine near its western shore, a second round island with
/// an old volcano to the east, and a few islets. Blobs give the plan, seeded noise gives the bays and headlands.
/// </summary>
internal static class Island
{
    // Plan coordinates: degrees east of 29.5 W (x) and degrees north of 40 S (y).
    private static readonly (double X, double Y)[] Spine =
        [(-1.75, 2.05), (-1.95, 1.35), (-1.60, 0.55), (-0.95, -0.25), (-0.55, -1.05), (-0.75, -1.85)];

    private static readonly (double X, double Y, double Radius)[] Blobs =
    [
        (-1.55, 1.55, 0.95), (-0.75, 0.75, 1.05), (-0.35, -0.35, 1.15), (-0.10, -1.35, 0.95), (-0.60, -2.05, 0.60),
        (2.75, 0.95, 0.78), (3.15, 0.45, 0.62), (2.55, 1.55, 0.42),
        (2.15, -1.75, 0.30), (2.55, -2.02, 0.20), (-3.35, -0.55, 0.24), (1.15, 2.15, 0.20), (-3.05, -1.05, 0.15),
    ];

    private const double VolcanoX = 2.9, VolcanoY = 0.85;

    /// <summary>Height above the sea in metres; NaN over the sea. Every other field takes its coast from here.</summary>
    public static Field Elevation(int seed)
    {
        Noise coast = new(seed, "coast");
        Noise warpX = new(seed, "warp-x");
        Noise warpY = new(seed, "warp-y");
        Noise hills = new(seed, "hills");
        Noise ridges = new(seed, "ridges");

        return Field.Of((_, _, longitude, latitude) =>
        {
            double x = longitude + 29.5, y = latitude + 40;
            // Warping the plan before measuring it bends straight shores into bays and capes.
            double px = x + (0.34 * warpX.Fractal(x * 0.9, y * 0.9, 4)) + (0.05 * warpX.At(x * 6, y * 6));
            double py = y + (0.34 * warpY.Fractal(x * 0.9, y * 0.9, 4)) + (0.05 * warpY.At(x * 6, y * 6));
            double inland = Plan(px, py) + (0.62 * coast.Fractal(x * 1.7, y * 1.7, 7, 0.58));
            if (inland <= 0) return double.NaN;

            double rise = Smooth(inland / 0.42);
            double relief = ridges.Ridged(px * 1.5, py * 1.5, 5);
            double plain = 6 + (170 * rise * (0.7 + (0.5 * hills.Fractal(x * 2.2, y * 2.2, 4))));
            double upland = 620 * rise * Math.Max(0, hills.Fractal((x * 1.6) + 40, y * 1.6, 5) + 0.10) * (0.4 + relief);
            double toSpine = DistanceToSpine(px, py) / 0.44;
            double mountains = 2650 * Math.Exp(-toSpine * toSpine) * (0.30 + (0.75 * relief)) * Smooth(inland / 0.5);
            double toVolcano = Math.Sqrt(Square(px - VolcanoX) + Square(py - VolcanoY)) / 0.36;
            double volcano = 1250 * Math.Exp(-toVolcano * toVolcano) * (0.6 + (0.5 * relief)) * rise;
            return plain + upland + mountains + volcano;
        });
    }

    /// <summary>Depth inside the union of the blobs, in degrees, joined smoothly where blobs meet; negative outside.</summary>
    private static double Plan(double x, double y)
    {
        double joined = 0;
        foreach ((double bx, double by, double radius) in Blobs)
        {
            double inside = radius - Math.Sqrt(Square((x - bx) * 0.9) + Square(y - by));
            joined += Math.Exp(inside / 0.14);
        }

        return Math.Min(0.14 * Math.Log(joined), 0.9);
    }

    private static double DistanceToSpine(double x, double y)
    {
        double nearest = double.MaxValue;
        for (int i = 1; i < Spine.Length; i++)
        {
            (double ax, double ay) = Spine[i - 1];
            double dx = Spine[i].X - ax, dy = Spine[i].Y - ay;
            double along = Math.Clamp((((x - ax) * dx) + ((y - ay) * dy)) / ((dx * dx) + (dy * dy)), 0, 1);
            nearest = Math.Min(nearest, Square(x - ax - (along * dx)) + Square(y - ay - (along * dy)));
        }

        return Math.Sqrt(nearest);
    }

    private static double Smooth(double t)
    {
        t = Math.Clamp(t, 0, 1);
        return t * t * (3 - (2 * t));
    }

    private static double Square(double value) => value * value;
}
