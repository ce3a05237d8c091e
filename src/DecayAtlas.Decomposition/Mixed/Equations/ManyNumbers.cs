using System.Numerics;

namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>Sums of rows of numbers, several in one instruction; each number is what it would be by itself.</summary>
internal static class ManyNumbers
{
    public static void Add(Span<double> target, ReadOnlySpan<double> source, double factor)
    {
        int i = 0;
        Vector<double> many = new(factor);
        for (; i <= target.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(target[i..]) + many * new Vector<double>(source[i..])).CopyTo(target[i..]);
        for (; i < target.Length; i++)
            target[i] += factor * source[i];
    }

    public static void Add(
        Span<double> target, ReadOnlySpan<double> first, double ofFirst, ReadOnlySpan<double> second, double ofSecond)
    {
        int i = 0;
        Vector<double> one = new(ofFirst), two = new(ofSecond);
        for (; i <= target.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            (new Vector<double>(target[i..]) + (one * new Vector<double>(first[i..]) + two * new Vector<double>(second[i..])))
                .CopyTo(target[i..]);
        }

        for (; i < target.Length; i++)
            target[i] += ofFirst * first[i] + ofSecond * second[i];
    }
}
