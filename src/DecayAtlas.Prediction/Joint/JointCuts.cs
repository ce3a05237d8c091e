namespace DecayAtlas.Prediction.Joint;

/// <summary>Where the classes are cut: k and S at the medians of the cells that both maps predict and apply to, so that every map has its
/// own.</summary>
/// <remarks>Two classes of each and not three: the interval of a place seldom tells a third.</remarks>
public sealed record JointCuts(double RatePerDay, double Stabilisation)
{
    /// <summary>Cells above this are fast no longer.</summary>
    public double HalfLifeDays => HalfLife.Days(RatePerDay);

    public JointClass ClassOf(double rate, double stabilisation) =>
        JointClass.All.Single(c => c.IsFast == rate >= RatePerDay && c.IsMuchLeft == stabilisation >= Stabilisation);

    /// <summary>Whether both intervals lie on one side of their cuts.</summary>
    public bool Tells(double rateLower, double rateUpper, double lower, double upper) =>
        IsOneSide(rateLower, rateUpper, RatePerDay) && IsOneSide(lower, upper, Stabilisation);

    private static bool IsOneSide(double lower, double upper, double cut) => lower >= cut || upper < cut;
}
