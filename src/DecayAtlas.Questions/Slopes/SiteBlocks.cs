namespace DecayAtlas.Questions.Slopes;

/// <summary>Squares of latitude and longitude whose sites may resemble each other.</summary>
public static class SiteBlocks
{
    /// <summary>As in training (common practice, no source).</summary>
    public const double UsualDegrees = 1;

    /// <summary>A site of unknown place is a block of its own.</summary>
    internal static UnitLevel LevelOf(ReleasedRates rates, double degrees) => new(
        "block of sites", r => rates.SiteOf(r) is { LatitudeDegrees: { } north, LongitudeDegrees: { } east }
            ? Invariant($"{Math.Floor(north / degrees)} {Math.Floor(east / degrees)}") : r.SiteKey);
}
