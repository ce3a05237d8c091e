namespace DecayAtlas.Demo.World;

/// <summary>
/// Seeded gradient noise in the plane (Perlin 1985, with the smoother fade of Perlin 2002). A pure function of
/// seed and place, so that a field can be evaluated anywhere, in any order, and always come out the same.
/// </summary>
internal sealed class Noise(int seed, string purpose)
{
    // Each purpose gets its own stream: adding a field to the world must not move the coast of an older seed.
    private readonly ulong _key = Mix((ulong)(uint)seed ^ Fnv1a(purpose));

    /// <summary>One octave, about -1 to 1, zero on average; features are about one unit wide.</summary>
    public double At(double x, double y)
    {
        double x0 = Math.Floor(x), y0 = Math.Floor(y);
        double fx = x - x0, fy = y - y0;
        int ix = (int)x0, iy = (int)y0;
        double u = Fade(fx), v = Fade(fy);
        double north = Lerp(Gradient(ix, iy, fx, fy), Gradient(ix + 1, iy, fx - 1, fy), u);
        double south = Lerp(Gradient(ix, iy + 1, fx, fy - 1), Gradient(ix + 1, iy + 1, fx - 1, fy - 1), u);
        return 1.5 * Lerp(north, south, v);
    }

    /// <summary>Fractal sum: each octave half as wide and <paramref name="gain"/> times as high as the one before.</summary>
    public double Fractal(double x, double y, int octaves, double gain = 0.5)
    {
        double sum = 0, height = 1, total = 0;
        for (int octave = 0; octave < octaves; octave++)
        {
            // The shift keeps the octaves' lattices from sharing their zeros at the origin.
            sum += height * At(x + (19.7 * octave), y - (7.3 * octave));
            total += height;
            height *= gain;
            x *= 2;
            y *= 2;
        }

        return sum / total;
    }

    /// <summary>Ridges and valleys, 0 to 1: sharp crests where the noise crosses zero.</summary>
    public double Ridged(double x, double y, int octaves)
    {
        double sum = 0, height = 1, total = 0;
        for (int octave = 0; octave < octaves; octave++)
        {
            double crest = 1 - Math.Min(1, Math.Abs(At(x + (11.1 * octave), y + (3.9 * octave))) * 1.6);
            sum += height * crest * crest;
            total += height;
            height *= 0.5;
            x *= 2;
            y *= 2;
        }

        return sum / total;
    }

    private double Gradient(int ix, int iy, double dx, double dy)
    {
        ulong hash = Mix(_key ^ ((ulong)(uint)ix << 32) ^ (uint)iy);
        // Eight directions are enough for relief that has to please the eye only.
        const double diagonal = 0.70710678118654752;
        return (hash & 7) switch
        {
            0 => dx,
            1 => -dx,
            2 => dy,
            3 => -dy,
            4 => diagonal * (dx + dy),
            5 => diagonal * (dx - dy),
            6 => diagonal * (dy - dx),
            _ => -diagonal * (dx + dy),
        };
    }

    private static double Fade(double t) => t * t * t * ((t * ((t * 6) - 15)) + 10);

    private static double Lerp(double a, double b, double t) => a + ((b - a) * t);

    private static ulong Mix(ulong z)
    {
        // The finaliser of SplitMix64 (Steele, Lea and Flood 2014).
        z += 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }

    private static ulong Fnv1a(string text)
    {
        ulong hash = 14695981039346656037UL;
        foreach (char letter in text) hash = (hash ^ letter) * 1099511628211UL;
        return hash;
    }
}
