namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>A random factor: lot, batch, site, campaign at site, …; factors may be nested or crossed.</summary>
/// <param name="OnlyOutcome">0 or 1 where its units can move one outcome only, as the slow lot moves k but not S.</param>
public sealed record MixedFactor(string Name, int? OnlyOutcome = null);
