namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>All that k and S of one burial are made of.</summary>
/// <param name="BurialKey">Name of the burial, unique; it fixes the burial's stream of random numbers.</param>
/// <param name="FastLotKey">Name of the fast lot: burials that name the same lot share its draws.</param>
public sealed record BurialInputs(
    string BurialKey,
    string FastLotKey,
    BagWeighing FastBag,
    LitterLot FastLot,
    string SlowLotKey,
    BagWeighing SlowBag,
    LitterLot SlowLot,
    Exposure Exposure);
