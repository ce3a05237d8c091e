using System.Globalization;
using DecayAtlas.Grids.GeoTiff;
using DecayAtlas.Grids.NetCdf;

namespace DecayAtlas.Grids;

/// <summary>One dimension of a variable beside its columns and rows, with its steps as a catalogue selects them.</summary>
public sealed record GridDimension(string Name, string? Unit, IReadOnlyList<string> Steps);

/// <summary>One band or variable that a file holds.</summary>
/// <param name="Band">Band, from 1; 1 for a variable.</param>
/// <param name="Variable">Variable of a NetCDF file; null otherwise.</param>
/// <param name="Title">What the file calls it; null where it says nothing.</param>
/// <param name="Unit">Unit as the file writes it; null where it says none.</param>
/// <param name="Dimensions">What else there is to choose from, such as time and depth.</param>
public sealed record GridLayer(int Band, string? Variable, string? Title, string? Unit, IReadOnlyList<GridDimension> Dimensions);

/// <summary>What a file holds, before any of it is opened as a grid.</summary>
/// <param name="Format">Name of the format.</param>
/// <param name="Layers">Its bands or variables.</param>
public sealed record GridDescription(string Format, IReadOnlyList<GridLayer> Layers)
{
    /// <summary>Looks into a file.</summary>
    /// <exception cref="GridException">The file is absent, damaged or of another format.</exception>
    public static GridDescription Of(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        Span<byte> head = stackalloc byte[64];
        head = head[..GridFile.ReadHead(path, head)];
        try
        {
            if (TiffDirectory.Recognises(head))
            {
                using FileStream stream = File.OpenRead(path);
                TiffDirectory directory = TiffDirectory.Read(path, stream);
                TiffLayout layout = TiffLayout.Read(path, directory);
                return new GridDescription("GeoTIFF", [.. Enumerable.Range(1, layout.Bands).Select(band =>
                {
                    GdalBandMetadata said = GdalBandMetadata.Read(path, directory, band);
                    return new GridLayer(band, null, said.Description, said.Unit, []);
                })]);
            }

            if (NetCdfGrid.Recognises(head))
            {
                using CdfFile file = ClassicFile.Recognises(head) ? ClassicFile.Open(path) : HdfFile.Open(path);
                return new GridDescription(
                    ClassicFile.Recognises(head) ? "NetCDF-3" : "NetCDF-4",
                    [.. CfSlice.Grids(file).Select(v => new GridLayer(1, v.Name, v.Text("long_name") ?? v.Text("standard_name"), v.Text("units"), DimensionsOf(file, v)))]);
            }
        }
        catch (IOException e)
        {
            throw new GridException($"{path} cannot be read: {e.Message.TrimEnd('.')}.", e);
        }

        using Grid grid = GridFile.Open(path, new GridReadOptions(Crs: "EPSG:4326"));
        return new GridDescription("Esri ASCII grid", [new GridLayer(1, null, null, null, [])]);
    }

    private static List<GridDimension> DimensionsOf(CdfFile file, CdfVariable variable)
    {
        List<GridDimension> dimensions = [];
        foreach (CfAxis axis in variable.Dimensions.Select(d => CfAxis.Of(file, d)).Where(a => a.Kind is AxisKind.Time or AxisKind.Other))
        {
            IEnumerable<string> steps = axis.Kind == AxisKind.Time
                ? axis.Days(file).Select(day => day.ToString())
                : axis.Variable is { } coordinates ? file.ReadAll(coordinates).Select(axis.Text)
                : Enumerable.Range(1, (int)Math.Min(axis.Dimension.Length, 100_000)).Select(n => "#" + n.ToString(CultureInfo.InvariantCulture));
            dimensions.Add(new GridDimension(axis.Dimension.Name, axis.Variable?.Text("units"), [.. steps]));
        }

        return dimensions;
    }
}
