namespace DecayAtlas.Demo.World;

/// <summary>
/// Temperature, precipitation and soil moisture. Air cools with latitude and height; westerly winds drop their rain
/// on the windward slopes and leave the lee dry; soil moisture follows the balance of rain and evaporative demand.
/// </summary>
internal static class InventedClimate
{
    private const double LapsePerMetre = 0.0060;

    /// <summary>Mean annual air temperature, degrees Celsius.</summary>
    public static Field TemperatureCelsius(int seed, Field elevation)
    {
        Noise wobble = new(seed, "temperature");
        return Field.Of((column, row, x, y) =>
        {
            double seaLevel = 16.6 + (1.2 * (y - InventedRegion.NorthDegrees));
            return seaLevel - (LapsePerMetre * elevation[column, row]) + (0.5 * wobble.Fractal(x * 1.5, y * 1.5, 3));
        });
    }

    /// <summary>Mean annual precipitation, millimetres a year.</summary>
    public static Field PrecipitationMillimetres(int seed, Field elevation)
    {
        Noise showers = new(seed, "rain");
        Field rain = OrographicRain(elevation);
        return Field.Of((column, row, x, y) => double.IsNaN(elevation[column, row])
            ? double.NaN
            : rain[column, row] * (1 + (0.16 * showers.Fractal(x * 2.1, y * 2.1, 4))));
    }

    /// <summary>Soil moisture index, 0 (air-dry) to 1 (saturated).</summary>
    public static Field SoilMoisture(int seed, Field temperature, Field precipitation)
    {
        Noise wetness = new(seed, "wetness");
        return Field.Of((column, row, x, y) =>
        {
            if (double.IsNaN(precipitation[column, row])) return double.NaN;
            double demand = 280 + (36 * Math.Max(0, temperature[column, row]));
            double balance = Math.Log(precipitation[column, row] / demand) + (0.45 * wetness.Fractal(x * 3, y * 3, 4));
            return 0.08 + (0.86 / (1 + Math.Exp(-1.5 * (balance + 0.25))));
        });
    }

    /// <summary>
    /// One pass of the wind from west to east along each row: rain grows with the moisture still in the air and with
    /// the slope it is lifted over; over the sea the air fills up again.
    /// </summary>
    private static Field OrographicRain(Field elevation)
    {
        Field terrain = Field.Of((column, row, _, _) => double.IsNaN(elevation[column, row]) ? 0 : elevation[column, row]).Smoothed(5);
        Field rain = new();
        Parallel.For(0, InventedRegion.Rows, row =>
        {
            double moisture = 1;
            for (int column = 0; column < InventedRegion.Columns; column++)
            {
                double lift = Math.Max(0, terrain[column, row] - terrain[Math.Max(0, column - 1), row]);
                double sink = Math.Max(0, terrain[Math.Max(0, column - 1), row] - terrain[column, row]);
                double height = terrain[column, row];
                double fall = moisture * (800 + (height * 0.45) + (48 * lift)) / (1 + (0.045 * sink));
                rain[column, row] = fall;
                bool land = height > 3;
                moisture += land ? (0.0030 * (1 - moisture)) - (moisture * ((0.00040 * lift) + 0.0010)) : 0.010 * (1 - moisture);
            }
        });
        return rain.Smoothed(7);
    }
}
