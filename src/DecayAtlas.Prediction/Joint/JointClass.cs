namespace DecayAtlas.Prediction.Joint;

/// <summary>One of the four classes that k and S make together.</summary>
/// <param name="Code">In the band class.</param>
/// <param name="Name">As files spell it.</param>
/// <param name="IsFast">k at the cut or above.</param>
/// <param name="IsMuchLeft">S at the cut or above.</param>
public sealed record JointClass(int Code, string Name, bool IsFast, bool IsMuchLeft)
{
    public static IReadOnlyList<JointClass> All { get; } =
    [
        new(1, "fast-little-left", true, false), new(2, "fast-much-left", true, true), new(3, "slow-little-left", false, false),
        new(4, "slow-much-left", false, true),
    ];

    public string Words => $"{(IsFast ? "fast" : "slow")}, {(IsMuchLeft ? "much" : "little")} left";

    /// <summary>As #rrggbb.</summary>
    public string Colour => HouseColours.Joint[Code - 1];
}
