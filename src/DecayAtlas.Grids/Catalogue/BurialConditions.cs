namespace DecayAtlas.Grids.Catalogue;

/// <summary>When and how deep a bag lay: what a covariate may depend on beside the place.</summary>
/// <param name="Exposure">The days; null where a date is not known or retrieval is not later than burial.</param>
/// <param name="DepthCentimetres">The stated depth, cm below the surface; null where it was not stated.</param>
/// <param name="BagHeightCentimetres">How much of the soil a bag fills from top to bottom, cm; its middle is taken to lie at the stated
/// depth.</param>
public sealed record BurialConditions(ExposureDays? Exposure, double? DepthCentimetres,
    double BagHeightCentimetres = BurialConditions.UsualBagHeightCentimetres)
{
    /// <summary>Common practice, no source: a litter bag of about 5 cm, put into its hole upright.</summary>
    public const double UsualBagHeightCentimetres = 5;

    public static BurialConditions None { get; } = new(null, null);

    /// <summary>Upper and lower end of the bag, cm below the surface, not above it; null without a depth.</summary>
    public (double Top, double Bottom)? Interval => DepthCentimetres is { } depth and >= 0
        ? (Math.Max(0, depth - BagHeightCentimetres / 2), depth + BagHeightCentimetres / 2)
        : null;
}
