using MathNet.Numerics.Random;

namespace DecayAtlas.Prediction.Siting;

/// <summary>Ways to choose places without a model, which a choice by one must beat.</summary>
internal static class OtherChoices
{
    /// <summary>Spread out: the place nearest to the middle of all, then each the one farthest from those before it.</summary>
    public static int[] Spread(IReadOnlyList<GeoPoint> places, int count)
    {
        double east = places.Average(p => Math.IEEERemainder(p.LongitudeDegrees - places[0].LongitudeDegrees, 360));
        GeoPoint middle = new(places[0].LongitudeDegrees + east, places.Average(p => p.LatitudeDegrees));
        double[] nearest = [.. Enumerable.Repeat(double.PositiveInfinity, places.Count)];
        List<int> chosen = [Enumerable.Range(0, places.Count).MinBy(c => places[c].GroundDistanceMetres(middle))];
        while (chosen.Count < Math.Min(count, places.Count))
        {
            for (int c = 0; c < nearest.Length; c++)
                nearest[c] = Math.Min(nearest[c], places[c].GroundDistanceMetres(places[chosen[^1]]));
            chosen.Add(Enumerable.Range(0, places.Count).MaxBy(c => nearest[c]));
        }
        return [.. chosen];
    }

    public static int[] AtRandom(int places, int count, int seed)
    {
        int[] all = [.. Enumerable.Range(0, places)];
        new MersenneTwister(seed, threadSafe: false).Shuffle(all);
        return all[..Math.Min(count, places)];
    }
}
