namespace DecayAtlas.Decomposition.Curves;

/// <summary>ln 2 / k: after how many days half of the decomposable part of the slow litter is left, at the warmth and moisture that its k
/// stands for. Not the half-life of the litter, of which a part stays, and none of other seasons.</summary>
public static class HalfLife
{
    /// <summary>For readers of a file or an answer.</summary>
    public const string Meaning =
        "days until half of the decomposable part of the slow litter is lost (ln 2 / k), at the temperature and moisture that k stands for";

    /// <param name="ratePerDay">k above 0; the half-life of the lower end of an interval of k is the upper one of the half-life.</param>
    public static double Days(double ratePerDay) => Math.Log(2) / ratePerDay;

    /// <summary>The k of a half-life: the same division.</summary>
    public static double RatePerDay(double days) => Math.Log(2) / days;
}
