namespace DecayAtlas.Questions.Sensitivity;

/// <summary>Something that is supposed to be otherwise than the release takes it, one thing at a time.</summary>
/// <param name="Id">Stable kebab-case code.</param>
/// <param name="Title">What is supposed, to go on after "if ".</param>
public sealed record Supposition(string Id, string Title)
{
    /// <summary>What the lot would have stated.</summary>
    internal Func<LotRow, LotRow> Lot { get; init; } = lot => lot;

    /// <summary>What would have been sent of a bag of the lot.</summary>
    internal Func<BagRow, LotRow, BagRow> Bag { get; init; } = (bag, _) => bag;

    /// <summary>Shortest and longest exposure (d), in place of the limits of the flags.</summary>
    internal (int Shortest, int Longest)? Days { get; init; }

    /// <summary>The fast litter's rate over that of the slow one, by which k and S are corrected for a plateau not reached.</summary>
    internal double? FastOverSlow { get; init; }

    /// <summary>Whether burials count that are set aside for nothing but a plateau that is not reached.</summary>
    internal bool TakesUnreached { get; init; }
}
