namespace DecayAtlas.Grids.Formats.Ascii;

/// <summary>
/// The header of an Esri ASCII grid: ncols, nrows, the lower left corner (xllcorner, yllcorner) or the centre of the lower
/// left cell (xllcenter, yllcenter), cellsize (or dx and dy) and NODATA_value, which is -9999 where it is left out.
/// </summary>
internal sealed record AsciiHeader(GridLattice Lattice, double MissingValue)
{
    public static readonly string[] Keys =
        ["ncols", "nrows", "xllcorner", "yllcorner", "xllcenter", "yllcenter", "cellsize", "dx", "dy", "nodata_value"];

    /// <summary>Reads the header and leaves the walker on the first value.</summary>
    public static AsciiHeader Read(string path, AsciiTokens tokens)
    {
        Dictionary<string, double> found = [];
        while (tokens.MoveNext() && !tokens.TryNumber(out _))
        {
            string key = tokens.Text.ToLowerInvariant();
            if (!Keys.Contains(key))
            {
                throw new GridException(
                    $"{path}: found \"{tokens.Text}\" in the header, and one of {string.Join(", ", Keys)} or the first number of the "
                    + "grid was expected.");
            }

            if (!tokens.MoveNext() || !tokens.TryNumber(out double value))
                throw new GridException($"{path}: found \"{tokens.Text}\" after {key}, and a number was expected.");

            found[key] = value;
        }

        int columns = Count(path, found, "ncols"), rows = Count(path, found, "nrows");
        double width = Number(path, found, found.ContainsKey("dx") ? "dx" : "cellsize");
        double height = Number(path, found, found.ContainsKey("dy") ? "dy" : "cellsize");
        bool centreX = found.ContainsKey("xllcenter"), centreY = found.ContainsKey("yllcenter");
        double west = Number(path, found, centreX ? "xllcenter" : "xllcorner") - (centreX ? width / 2 : 0);
        double south = Number(path, found, centreY ? "yllcenter" : "yllcorner") - (centreY ? height / 2 : 0);
        GridLattice lattice = new(columns, rows, west, south + rows * height, width, height);
        return new AsciiHeader(lattice, found.GetValueOrDefault("nodata_value", -9999));
    }

    private static int Count(string path, Dictionary<string, double> found, string key)
    {
        double value = Number(path, found, key);
        return value is >= 1 and <= int.MaxValue && value == Math.Floor(value)
            ? (int)value
            : throw new GridException($"{path}: {key} is {value}, and a whole number of at least 1 was expected.");
    }

    private static double Number(string path, Dictionary<string, double> found, string key) =>
        found.TryGetValue(key, out double value)
            ? value
            : throw new GridException($"{path}: the header has no {key}; an Esri ASCII grid states it before the first value.");
}
