namespace DecayAtlas.Decomposition.Burials;

/// <summary>A result with its first-order standard uncertainty in three parts: what belongs to this burial alone, what it shares with
/// the bags of its batch, and what it shares with the bags of its lots.</summary>
/// <param name="UncertaintyBag">Standard uncertainty from the burial's own weighings, tare, ash and dates.</param>
public sealed record Estimate(double Value, double UncertaintyBag, SharedErrors Shared)
{
    public double UncertaintyBatch => Shared.UncertaintyBatch;

    public double UncertaintyLot => Shared.UncertaintyLot;

    public double Uncertainty => Math.Sqrt(
        UncertaintyBag * UncertaintyBag + Shared.BatchCovariance(Shared) + Shared.LotCovariance(Shared));
}
