namespace DecayAtlas.Pages.Charts;

/// <summary>Sites whose covariate lies in one stretch, with the middle half of their rates.</summary>
internal sealed record ResponseBin(double From, double To, double Middle, int Sites, double Lower, double Median, double Upper)
{
    /// <summary>Stretches of equal numbers of sites.</summary>
    public static IReadOnlyList<ResponseBin> Of(IReadOnlyList<ResponsePoint> points)
    {
        ResponsePoint[] sorted = [.. points.OrderBy(p => p.X).ThenBy(p => p.RatePerDay)];
        int bins = Math.Clamp(sorted.Length / 12, 1, 8);
        return [.. Enumerable.Range(0, bins).Select(b => sorted[(b * sorted.Length / bins)..((b + 1) * sorted.Length / bins)])
            .Where(s => s.Length > 0).Select(Of)];
    }

    private static ResponseBin Of(ResponsePoint[] sorted)
    {
        double[] rates = Quantiles.Sort(sorted.Select(p => p.RatePerDay)), places = [.. sorted.Select(p => p.X)];
        return new ResponseBin(places[0], places[^1], Quantiles.Of(places, 0.5), sorted.Length,
            Quantiles.Of(rates, 0.25), Quantiles.Of(rates, 0.5), Quantiles.Of(rates, 0.75));
    }
}
