namespace DecayAtlas.Demo.World;

/// <summary>Everything that is true of the invented islands before anyone buries a bag there.</summary>
internal sealed class InventedWorld
{
    public InventedWorld(int seed)
    {
        Elevation = Island.Elevation(seed);
        Precipitation = InventedClimate.PrecipitationMillimetres(seed, Elevation);
        Field air = InventedClimate.TemperatureCelsius(seed, Elevation);
        Temperature = Field.Of((column, row, x, y) => air[column, row] + (WarmGround.ExcessCelsius * WarmGround.ShareAt(x, y)));
        SoilMoisture = InventedClimate.SoilMoisture(seed, air, Precipitation);
        Clay = Soil.ClayPercent(seed, Elevation);
        Ph = Soil.Ph(seed, Precipitation);
        Ecosystem = Ecosystems.Classify(seed, Elevation, air, SoilMoisture);
    }

    public Field Elevation { get; }

    public Field Temperature { get; }

    public Field Precipitation { get; }

    public Field SoilMoisture { get; }

    public Field Clay { get; }

    public Field Ph { get; }

    public Field Ecosystem { get; }

    public bool IsLand(double longitude, double latitude) => !double.IsNaN(Elevation.At(longitude, latitude));

    /// <summary>Whether every cell within <paramref name="reachDegrees"/> (a square) is land.</summary>
    public bool IsInland(double longitude, double latitude, double reachDegrees) =>
        InventedRegion.Around(longitude, latitude, reachDegrees).All(place => IsLand(place.Longitude, place.Latitude));
}
