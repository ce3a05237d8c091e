namespace DecayAtlas.Contributions.Schema;

/// <summary>Water of a bag that was told twice: how the litter was dried, and how much it still held.</summary>
/// <param name="Column">The column of the moisture.</param>
/// <param name="Share">Of the litter as weighed (1).</param>
public sealed record StatedWater(string Column, Drying Drying, double Share)
{
    /// <summary>Most water that an oven or freeze-drying leaves, as a share of the mass: four times its standard uncertainty (common
    /// practice, no source).</summary>
    public const double MostLeftByDrying = 0.02;

    /// <summary>Where litter that was oven- or freeze-dried is said to have held more water than that leaves.</summary>
    public static IEnumerable<StatedWater> ContradictionsOf(BagRow row, double most)
    {
        if (row is { DryingInitial: Drying.Oven or Drying.Freeze, MoistureInitialFraction: { } initial } && initial > most)
            yield return new StatedWater("moisture_initial_fraction", row.DryingInitial.Value, initial);
        if (row is { Drying: Drying.Oven or Drying.Freeze, MoistureFinalFraction: { } final } && final > most)
            yield return new StatedWater("moisture_final_fraction", row.Drying.Value, final);
    }

    public string Sentence => Invariant($"The litter is said to be {(Drying == Drying.Oven ? "oven" : "freeze")}-dried and to have held ")
        + Invariant($"{100 * Share:0.##} % of water in {Column}, which was taken off: what was measured says more than a method's name.");
}
