namespace DecayAtlas.Demo.World;

/// <summary>Everything that is true of the invented islands before anyone buries a bag there.</summary>
internal sealed class InventedWorld
{
    public InventedWorld(int seed)
    {
        Elevation = new Island(seed).Elevation;
        InventedClimate climate = new(seed, Elevation);
        Soil soil = new(seed, Elevation, climate.PrecipitationMillimetres);
        Temperature = Field.Of((column, row) => climate.TemperatureCelsius[column, row]
            + (WarmGround.ExcessCelsius * WarmGround.ShareAt(InventedRegion.LongitudeOf(column), InventedRegion.LatitudeOf(row))));
        Precipitation = climate.PrecipitationMillimetres;
        SoilMoisture = climate.SoilMoisture;
        Clay = soil.ClayPercent;
        Ph = soil.ReactionPh;
        Ecosystem = Ecosystems.Classify(seed, Elevation, climate);
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
    public bool IsInland(double longitude, double latitude, double reachDegrees)
    {
        for (double dy = -reachDegrees; dy <= reachDegrees + 1e-9; dy += InventedRegion.CellDegrees)
        {
            for (double dx = -reachDegrees; dx <= reachDegrees + 1e-9; dx += InventedRegion.CellDegrees)
                if (!IsLand(longitude + dx, latitude + dy)) return false;
        }

        return true;
    }
}
