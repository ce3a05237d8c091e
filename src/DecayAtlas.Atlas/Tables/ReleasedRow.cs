using DecayAtlas.Atlas.Records;
using DecayAtlas.Contributions;

namespace DecayAtlas.Atlas.Tables;

/// <summary>A record as it is released: with the place of its site and the use that its flags leave it.</summary>
public readonly record struct Released<T>(T Record, PublishedPlace Place, Verdict Verdict);

/// <summary>One row of <c>contributions</c>.</summary>
public sealed record ContributionRow(ContributionHeader Header, int Sites, int Lots, int Bags, int Burials, int Samples);

/// <summary>One row of <c>lots</c>.</summary>
public sealed record ReleasedLot(string ContributionId, LotRow Row);

/// <summary>One row of <c>samples</c>.</summary>
public sealed record ReleasedSample(string ContributionId, SampleRow Row);
