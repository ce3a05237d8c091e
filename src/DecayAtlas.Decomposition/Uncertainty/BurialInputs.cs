namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>All that k and S of one burial are made of.</summary>
/// <param name="BurialKey">Name of the burial, unique; it fixes the burial's stream of random numbers.</param>
/// <param name="Keys">Burials that name the same lot or batch share its draws.</param>
public sealed record BurialInputs(
    string BurialKey,
    SharedKeys Keys,
    BagWeighing FastBag,
    LitterLot FastLot,
    BagWeighing SlowBag,
    LitterLot SlowLot,
    Exposure Exposure);
