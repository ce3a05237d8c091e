namespace DecayAtlas.Questions.Sensitivity;

/// <summary>Values of one's own; what is missing stays as it is.</summary>
/// <param name="HydrolysableFast">H of every fast lot, all of it and as a share of the dry litter (1); so of the slow.</param>
/// <param name="InitialWater">Share of water at the first weighing wherever nothing was said of it (1).</param>
public sealed record OwnSupposition(
    double? HydrolysableFast, double? HydrolysableSlow, double? InitialWater, (int Shortest, int Longest)? Days, double? FastOverSlow)
{
    internal Supposition Of(SensitivityBasis basis)
    {
        List<string> said = [];
        if (HydrolysableFast is { } fast)
            said.Add(Invariant($"H of every fast lot were {fast}"));
        if (HydrolysableSlow is { } slow)
            said.Add(Invariant($"H of every slow lot were {slow}"));
        if (InitialWater is { } share)
            said.Add(Invariant($"the unspoken water at the first weighing were {100 * share:0.##} %"));
        if (Days is { } days)
            said.Add($"exposures of {days.Shortest} to {days.Longest} days counted");
        if (FastOverSlow is { } over)
            said.Add(Invariant($"k and S were corrected for a fast litter that decays {over} times as fast as the slow one"));
        return new Supposition("own", string.Join(" and ", said))
        {
            Lot = lot => (lot.Role == LitterRole.Fast ? HydrolysableFast : HydrolysableSlow) is { } h
                ? lot with
                {
                    HydrolysableFraction = h,
                    HydrolysableBasis = FractionBasis.Dry,
                    HydrolysableParts = HydrolysableParts.AllSoluble,
                }
                : lot,
            Bag = (bag, lot) => InitialWater is { } water ? Suppositions.WithInitialWater(bag, lot, basis.Assumptions, _ => water) : bag,
            Days = Days,
            FastOverSlow = FastOverSlow,
        };
    }
}
