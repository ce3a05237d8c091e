using System.Numerics;

namespace DecayAtlas.Decomposition;

/// <summary>
/// A stream of random numbers that is fixed by a seed and a name, so that each burial has its own whatever the order
/// or the number of threads: xoshiro256** (Blackman and Vigna 2021, ACM TOMS 47:36), its state filled by SplitMix64
/// (Steele, Lea and Flood 2014, OOPSLA), as its authors advise.
/// </summary>
public sealed class RandomStream
{
    private ulong _s0, _s1, _s2, _s3;

    public RandomStream(ulong seed)
    {
        _s0 = SplitMix(ref seed);
        _s1 = SplitMix(ref seed);
        _s2 = SplitMix(ref seed);
        _s3 = SplitMix(ref seed);
    }

    public RandomStream(ulong seed, string name)
        : this(seed ^ Hash(name))
    {
    }

    public ulong NextBits()
    {
        ulong result = BitOperations.RotateLeft(_s1 * 5, 7) * 9;
        ulong t = _s1 << 17;
        _s2 ^= _s0;
        _s3 ^= _s1;
        _s1 ^= _s2;
        _s0 ^= _s3;
        _s2 ^= t;
        _s3 = BitOperations.RotateLeft(_s3, 45);
        return result;
    }

    /// <summary>The next number uniform on [0, 1), with 53 random bits.</summary>
    public double NextUniform() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>The next whole number uniform on 0 … <paramref name="count"/> - 1 (Lemire 2019, ACM TOMACS 29:3, without bias).</summary>
    public int NextIndex(int count)
    {
        ulong n = (ulong)count;
        ulong high = Math.BigMul(NextBits(), n, out ulong low);
        if (low < n)
        {
            ulong threshold = (0UL - n) % n;
            while (low < threshold)
                high = Math.BigMul(NextBits(), n, out low);
        }

        return (int)high;
    }

    /// <summary>The next two independent standard normal numbers (polar method, Marsaglia and Bray 1964, SIAM Review 6:260-264).</summary>
    public (double First, double Second) NextNormalPair()
    {
        while (true)
        {
            double u = 2 * NextUniform() - 1, v = 2 * NextUniform() - 1;
            double square = u * u + v * v;
            if (square is > 0 and < 1)
            {
                double scale = Math.Sqrt(-2 * Math.Log(square) / square);
                return (u * scale, v * scale);
            }
        }
    }

    private static ulong SplitMix(ref ulong state)
    {
        ulong z = state += 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }

    // FNV-1a, 64 bits, over the UTF-16 code units; SplitMix64 then spreads names that differ little
    private static ulong Hash(string name)
    {
        ulong hash = 14695981039346656037UL;
        foreach (char c in name)
            hash = (hash ^ c) * 1099511628211UL;
        return SplitMix(ref hash);
    }
}
