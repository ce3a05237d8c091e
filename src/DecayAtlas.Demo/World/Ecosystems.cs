using System.Collections.Immutable;

namespace DecayAtlas.Demo.World;

/// <summary>Ecosystem classes of the class grid, in the words of the contribution schema.</summary>
internal static class Ecosystems
{
    /// <summary>Class number (index) to name; 0 is not used, so that an empty cell cannot be taken for a class.</summary>
    public static readonly ImmutableArray<string> Names =
        ["", "forest", "woodland", "shrubland", "heathland", "grassland", "wetland", "tundra", "cropland"];

    public static Field Classify(int seed, Field elevation, Field temperature, Field soilMoisture)
    {
        Noise mosaic = new(seed, "mosaic");
        return Field.Of((column, row, x, y) =>
        {
            double height = elevation[column, row];
            if (double.IsNaN(height)) return double.NaN;
            double patch = mosaic.Fractal(x * 4, y * 4, 4);
            double warmth = temperature[column, row], wet = soilMoisture[column, row];
            string name =
                warmth < 3.2 + patch ? "tundra"
                : wet > 0.80 && height < 220 && patch > 0.12 ? "wetland"
                : height < 320 && wet is > 0.32 and < 0.72 && patch < -0.08 ? "cropland"
                : wet > 0.66 ? (warmth < 6.5 ? "heathland" : "forest")
                : wet > 0.47 ? (patch > 0 ? "woodland" : "grassland")
                : wet > 0.32 ? "grassland" : "shrubland";
            return Names.IndexOf(name);
        });
    }
}
