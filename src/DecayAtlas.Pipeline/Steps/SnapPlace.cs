namespace DecayAtlas.Pipeline.Steps;

/// <summary>Where to sample: the exact point, and the radius that holds the true place (m), where stated.</summary>
internal readonly record struct SnapPlace(GeoPoint Point, double? UncertaintyMetres);
