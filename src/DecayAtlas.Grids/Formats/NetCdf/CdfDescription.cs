namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>What a NetCDF file holds and how, from its header and its coordinates.</summary>
internal static class CdfDescription
{
    private const int MostSteps = 100_000;

    public static GridDescription Of(string path)
    {
        using CdfFile file = CdfFile.OpenAny(path);
        bool classic = file is ClassicFile;
        return new GridDescription(classic ? "NetCDF-3" : "NetCDF-4", [.. CfSlice.Grids(file).Select(v => LayerOf(file, v, classic))]);
    }

    private static GridLayer LayerOf(CdfFile file, CdfVariable variable, bool classic) => new(
        1, variable.Name, variable.Text("long_name") ?? variable.Text("standard_name"), variable.Text("units"),
        DimensionsOf(file, variable))
    {
        Scale = variable.Number("scale_factor"),
        Offset = variable.Number("add_offset"),
        MissingValue = variable.Number("_FillValue") ?? variable.Number("missing_value"),
        Storage = new GridStorage(
            $"{(variable.Type.IsFloatingPoint ? "floating-point" : variable.Type.IsSigned ? "whole" : "unsigned whole")} numbers of "
            + $"{variable.Type.Bytes * 8} bits",
            classic ? "none" : null,
            null,
            file.ChunksOf(variable) is { Count: > 0 } chunks ? $"chunks of {string.Join(" x ", chunks)} values" : "one piece",
            [],
            false,
            variable.Attributes.ContainsKey("flag_values")),
    };

    private static List<GridDimension> DimensionsOf(CdfFile file, CdfVariable variable)
    {
        List<GridDimension> dimensions = [];
        foreach (CfAxis axis in variable.Dimensions.Select(d => CfAxis.Of(file, d)).Where(a => a.Kind is AxisKind.Time or AxisKind.Other))
        {
            IEnumerable<string> steps = axis.Kind == AxisKind.Time
                ? axis.Days(file).Select(day => day.ToString())
                : axis.Variable is { } coordinates ? file.ReadAll(coordinates).Select(axis.Text)
                : Enumerable.Range(1, (int)Math.Min(axis.Dimension.Length, MostSteps))
                    .Select(n => $"#{n}");
            dimensions.Add(new GridDimension(axis.Dimension.Name, axis.Variable?.Text("units"), [.. steps.Take(MostSteps)])
            {
                IsTime = axis.Kind == AxisKind.Time,
            });
        }

        return dimensions;
    }
}
