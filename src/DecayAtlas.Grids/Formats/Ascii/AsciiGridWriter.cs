using System.Globalization;
using System.Text;

namespace DecayAtlas.Grids.Formats.Ascii;

/// <summary>Writes an Esri ASCII grid (corner registration), byte for byte the same for the same values.</summary>
public static class AsciiGridWriter
{
    /// <summary>Writes the file, replacing one of that name.</summary>
    /// <param name="lattice">Where the cells lie, degrees; the format needs square cells.</param>
    /// <param name="values">Columns x rows values, row by row from the north-west; NaN = missing.</param>
    /// <exception cref="GridException">The cells are not square, or the disk refuses.</exception>
    public static void Write(string path, GridLattice lattice, ReadOnlySpan<float> values)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(lattice);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, (long)lattice.Columns * lattice.Rows, nameof(values));
        if (lattice.CellWidth != lattice.CellHeight)
        {
            throw new GridException($"{path}: cells of {lattice.CellWidth} by {lattice.CellHeight} degrees do not fit an Esri ASCII grid, "
                + "whose cells are square; write a GeoTIFF.");
        }

        string missing = MissingText(values);
        try
        {
            using StreamWriter writer = new(path, append: false, new UTF8Encoding(false));
            writer.Write(string.Create(
                CultureInfo.InvariantCulture,
                $"""
                ncols {lattice.Columns}
                nrows {lattice.Rows}
                xllcorner {lattice.West:R}
                yllcorner {lattice.South:R}
                cellsize {lattice.CellWidth:R}
                NODATA_value {missing}

                """));
            for (int i = 0; i < values.Length; i++)
            {
                writer.Write(float.IsNaN(values[i]) ? missing : values[i].ToString("R", CultureInfo.InvariantCulture));
                writer.Write((i + 1) % lattice.Columns == 0 ? '\n' : ' ');
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{path} cannot be written: {e.Message.TrimEnd('.')}.", e);
        }
    }

    /// <summary>-9999, or the next number with one more nine that no cell holds.</summary>
    private static string MissingText(ReadOnlySpan<float> values)
    {
        float missing = -9999;
        while (values.Contains(missing))
            missing = missing * 10 - 9;

        return missing.ToString("F0", CultureInfo.InvariantCulture);
    }
}
