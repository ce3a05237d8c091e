namespace DecayAtlas.Decomposition.Tests;

public class ReasonCodes
{
    /// <summary>They stand in released tables: a reason that is renamed in code keeps its code.</summary>
    [Fact]
    public void Are_what_releases_have() => Assert.Equal(
        [
            "fast-bag-absent", "slow-bag-absent", "pair-ambiguous", "mass-not-reported", "tare-not-reported", "mass-not-positive",
            "water-soluble-not-reported", "chemistry-impossible", "retrieval-not-reported", "exposure-not-positive",
            "fast-loss-not-positive", "slow-loss-at-plateau",
            "lot-not-reported", "rate-not-reported", "mean-rate-not-positive",
        ],
        Enum.GetValues<MissingReason>().Select(r => r.Code()));
}
