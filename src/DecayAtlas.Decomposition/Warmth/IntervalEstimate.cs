namespace DecayAtlas.Decomposition.Warmth;

/// <summary>An estimate with its 95 % interval.</summary>
public readonly record struct IntervalEstimate(double Value, double Lower95, double Upper95);
