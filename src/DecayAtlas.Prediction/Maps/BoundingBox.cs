using System.Globalization;

namespace DecayAtlas.Prediction;

/// <summary>A region in WGS 84 degrees that does not cross the antimeridian.</summary>
public sealed record BoundingBox(double WestDegrees, double SouthDegrees, double EastDegrees, double NorthDegrees)
{
    /// <inheritdoc/>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{WestDegrees:0.####} to {EastDegrees:0.####} degrees east, {SouthDegrees:0.####} to {NorthDegrees:0.####} degrees north");

    internal void Check()
    {
        if (!(double.IsFinite(WestDegrees) && double.IsFinite(EastDegrees) && SouthDegrees >= -90 && NorthDegrees <= 90 && SouthDegrees < NorthDegrees))
            throw new PredictionException($"The map region ({this}) is not a region; give west < east in -180 to 180 and south < north in -90 to 90.");
        if (WestDegrees >= EastDegrees || WestDegrees < -180 || EastDegrees > 180)
            throw new PredictionException($"The map region ({this}) does not run from west to east within -180 to 180, so it would cross the antimeridian, which a map cannot do yet; make one map on each side.");
    }
}
