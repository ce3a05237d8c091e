
namespace DecayAtlas.Pages.Charts;

/// <summary>One site in a response: what it lies in, and its rate.</summary>
/// <param name="X">The covariate.</param>
/// <param name="RatePerDay">k (d⁻¹), above 0.</param>
public readonly record struct ResponsePoint(double X, double RatePerDay);

/// <summary>Sites whose covariate lies in one stretch, with the middle half of their rates.</summary>
internal sealed record ResponseBin(double From, double To, double Middle, int Sites, double Lower, double Median, double Upper)
{
    /// <summary>Stretches of equal numbers of sites.</summary>
    public static IReadOnlyList<ResponseBin> Of(IReadOnlyList<ResponsePoint> points)
    {
        ResponsePoint[] sorted = [.. points.OrderBy(p => p.X).ThenBy(p => p.RatePerDay)];
        int bins = Math.Clamp(sorted.Length / 12, 1, 8);
        return
        [
            .. Enumerable.Range(0, bins).Select(b => sorted[(b * sorted.Length / bins)..((b + 1) * sorted.Length / bins)])
                .Where(s => s.Length > 0).Select(s =>
            {
                double[] rates = Quantiles.Sort(s.Select(p => p.RatePerDay));
                return new ResponseBin(s[0].X, s[^1].X, Quantiles.Of(Quantiles.Sort(s.Select(p => p.X)), 0.5), s.Length,
                    Quantiles.Of(rates, 0.25), Quantiles.Of(rates, 0.5), Quantiles.Of(rates, 0.75));
            }),
        ];
    }
}
