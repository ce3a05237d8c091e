namespace DecayAtlas.Pipeline.Tests;

/// <summary>A sound contribution of one site and one burial, from which each test departs in the one thing it is about.</summary>
internal static class Given
{
    public static readonly SiteRow Site = new(2, "S1", 50, 10, 20, false, "XA", "grassland", "meadow", "organic", null, 100, null);

    public static readonly LotRow FastLot = new(
        2, "F1", LitterRole.Fast, 0.842, 0.023, FractionBasis.Dry, HydrolysableParts.AllSoluble, null, null, null, null,
        0.05, 0.005, null, null,
        2.0, 0.3, 0.25, 0.01, 0.25, null);

    public static readonly LotRow SlowLot = FastLot with
    {
        Row = 3,
        LotId = "L1",
        Role = LitterRole.Slow,
        HydrolysableFraction = 0.552,
        HydrolysableFractionSd = 0.050,
    };

    public static readonly BagRow FastBag = new(
        2, "b-f", "b", "S1", null, "1", "F1", LitterRole.Fast, null, 2.250, 0.950, MassBasis.Gross, Drying.Oven, null, null,
        Drying.Oven, 60, null, null, null, new(2024, 4, 1), new(2024, 7, 1), 8, BagCondition.Intact, true, null, 0.001, null);

    public static readonly BagRow SlowBag =
        FastBag with { Row = 3, BagId = "b-s", LotId = "L1", Role = LitterRole.Slow, MassInitialGrams = 2.251, MassFinalGrams = 1.803 };

    public static ContributionHeader Header(string id = "c1", string contributor = "g1", string campaign = "2024-spring") =>
        new(id, 1, contributor, campaign, "p1", new(2024, 9, 1), "CC-BY-4.0", new string('0', 64));

    public static Contribution Contribution(
        ContributionHeader? header = null, SiteRow? site = null, LotRow? fastLot = null, LotRow? slowLot = null, params BagRow[] bags) =>
        new(header ?? Header(), [site ?? Site], [fastLot ?? FastLot, slowLot ?? SlowLot], bags.Length == 0 ? [FastBag, SlowBag] : bags, []);

    public static FlagInputs Inputs(params Contribution[] contributions)
    {
        IndexStep.Output index = IndexStep.Run(contributions, MeasurementAssumptions.Default, []);
        return new FlagInputs(contributions, index.Sites, index.Bags, index.Burials, [], LotConsensus.Of(contributions.Select(
            c => (c.Header.ContentHash, c.Lots.Select(l => (l.LotId, l.HydrolysableFraction))))), null,
            FlagCatalogue.All);
    }

    /// <summary>All flags, one with a limit of its own.</summary>
    public static IReadOnlyList<FlagDefinition> With(FlagDefinition flag) =>
        [.. FlagCatalogue.All.Select(f => f.GetType() == flag.GetType() ? flag : f)];

    /// <summary>The flags of contributions as "code record-kind record-id", in order.</summary>
    public static string[] Flagged(params Contribution[] contributions) => Flagged(Inputs(contributions));

    public static string[] Flagged(FlagInputs inputs) =>
        [.. FlagStep.Run(inputs, DecisionList.None).Flags.Select(f => $"{f.Code} {f.Record.Kind} {f.Record.RecordId}")];
}
