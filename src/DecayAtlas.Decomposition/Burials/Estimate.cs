namespace DecayAtlas.Decomposition.Burials;

/// <summary>A result with its standard uncertainty in two parts: what belongs to this burial alone, and what it shares with its
/// lots.</summary>
/// <param name="UncertaintyBag">Standard uncertainty from the burial's own weighings, tare, ash and dates.</param>
/// <param name="Lot">What comes from the lots' chemistry.</param>
public sealed record Estimate(double Value, double UncertaintyBag, LotErrors Lot)
{
    public double UncertaintyLot => Lot.Uncertainty;

    public double Uncertainty => Math.Sqrt(UncertaintyBag * UncertaintyBag + UncertaintyLot * UncertaintyLot);
}
