namespace DecayAtlas.Contributions.Judging;

/// <summary>What is usual of a quantity where two litters lie for about three months in topsoil: beyond it a slip is likelier than a
/// discovery, and the sender looks once more. Common practice, no source; nothing is refused by it.</summary>
public sealed record UsualRange(double Least, double Most)
{
    /// <summary>First mass of the litter alone over the nominal mass of its lot (1).</summary>
    public static UsualRange MassOverNominal { get; } = new(0.6, 1.6);

    /// <summary>First mass of the litter alone where the lot says no nominal one (g).</summary>
    public static UsualRange LitterMassGrams { get; } = new(0.3, 12);

    public static UsualRange FastRemaining { get; } = new(0.1, 0.8);

    public static UsualRange SlowRemaining { get; } = new(0.35, 0.97);

    /// <summary>Ash of the litter that was dug up over that of its lot: what rots leaves its ash, and soil brings more.</summary>
    public static UsualRange AshOverLot { get; } = new(0.5, 8);

    public static UsualRange ExposureDays { get; } = new(60, 120);

    public static UsualRange RatePerDay { get; } = new(0.002, 0.06);

    public static UsualRange Stabilisation { get; } = new(0, 0.65);

    public static UsualRange DepthCentimetres { get; } = new(3, 20);

    /// <summary>What the protocol asks, outside of which a burial does not count; a curator may set other ends.</summary>
    public static UsualRange ProtocolDepthCentimetres { get; } = new(6, 10);

    public bool Holds(double value) => value >= Least && value <= Most;
}
