namespace DecayAtlas.Decomposition.Burials;

/// <summary>A result with its standard uncertainty in two parts: what belongs to this burial alone, and what it shares with its
/// lots.</summary>
/// <param name="Value">The result, in the unit its owner names.</param>
/// <param name="UncertaintyBag">Standard uncertainty from the burial's own weighings, tare, ash and dates.</param>
/// <param name="Lot">What comes from the lots' chemistry.</param>
public sealed record Estimate(double Value, double UncertaintyBag, LotErrors Lot)
{
    /// <summary>Standard uncertainty from the lots' chemistry.</summary>
    public double UncertaintyLot => Lot.Uncertainty;

    /// <summary>Combined standard uncertainty.</summary>
    public double Uncertainty => Math.Sqrt(UncertaintyBag * UncertaintyBag + UncertaintyLot * UncertaintyLot);
}
