using System.Globalization;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Tells what is understood of a grid file.</summary>
internal static class GridReport
{
    /// <summary>Most layers and most steps that are listed one by one.</summary>
    private const int MostListed = 20;

    public static string NameOf(GridInspection found)
    {
        string layer = found.Layer.Variable is { } variable ? $"variable {variable}" : $"band {found.Layer.Band}";
        IEnumerable<string> steps = found.Layer.Dimensions.Where(d => found.Options.Select?.ContainsKey(d.Name) == true)
            .Select(d => $"{d.Name} {StepOf(d, found.Options.Select![d.Name])}");
        return string.Join(", ", steps.Prepend(layer).Prepend(Path.GetFileName(found.Path)));
    }

    public static void Write(Screen screen, GridInspection found, SitesOnGrid? sites)
    {
        screen.Line($"{found.Path}: {found.Description.Format}");
        screen.Lines(found.Description.Layers.Take(MostListed).Select(layer => "  " + LayerLine(layer)));
        if (found.Description.Layers.Count > MostListed)
            screen.Line($"  and {found.Description.Layers.Count - MostListed} more");
        screen.Line($"{NameOf(found)}:");
        screen.Lines(Lines(found, sites).Select(line => $"  {line.What}: {line.Value}"));
    }

    /// <summary>The same for machines; numbers as numbers, in the unit that their name says.</summary>
    public static object Json(GridInspection found, SitesOnGrid? sites) => new
    {
        found.Path,
        found.Description.Format,
        layers = found.Description.Layers.Select(l => new
        {
            band = l.Variable is null ? l.Band : (int?)null,
            l.Variable,
            l.Title,
            l.Unit,
            l.Scale,
            l.Offset,
            missing = l.MissingValue is { } m && double.IsFinite(m) ? m : (double?)null,
            l.Storage,
            dimensions = l.Dimensions.Select(d => new { d.Name, d.Unit, d.Steps, months = d.IsTime ? MonthsOf(d) : null }),
        }),
        looked_at = new { found.Options.Band, found.Options.Variable, found.Options.Select },
        place = found.Place is { } p ? new
        {
            p.Crs,
            p.Unit,
            p.Caveat,
            p.Lattice.Columns,
            p.Lattice.Rows,
            p.Lattice.West,
            p.Lattice.South,
            p.Lattice.East,
            p.Lattice.North,
            p.Lattice.CellWidth,
            p.Lattice.CellHeight,
            west_degrees = Finite(p.Ground.WestDegrees),
            south_degrees = Finite(p.Ground.SouthDegrees),
            east_degrees = Finite(p.Ground.EastDegrees),
            north_degrees = Finite(p.Ground.NorthDegrees),
            cell_width_m = p.CellMetres?.Width,
            cell_height_m = p.CellMetres?.Height,
            p.GoesRoundTheEarth,
        } : null,
        values = found.Values is { } v ? new
        {
            v.CellsRead,
            exact = v.IsExact,
            v.MissingShare,
            v.Minimum,
            percentile_2 = v.Quantile(0.02),
            median = v.Quantile(0.5),
            percentile_98 = v.Quantile(0.98),
            v.Maximum,
            v.Mean,
            v.AllWhole,
            different_values = v.Distinct?.Count,
        } : null,
        sites,
        found.Refusal,
    };

    /// <summary>The months of the year that the steps of a time axis fall in.</summary>
    private static int[] MonthsOf(GridDimension time) =>
        [.. time.Steps.Select(s => int.Parse(s.AsSpan(s.LastIndexOf('-') - 2, 2), CultureInfo.InvariantCulture)).Distinct().Order()];

    private static IEnumerable<(string What, string Value)> Lines(GridInspection found, SitesOnGrid? sites)
    {
        if (found.Layer.Storage is { } storage)
        {
            string predictor = storage.Predictor is 2 or 3 ? $" with predictor {storage.Predictor}" : "";
            string packed = storage.Compression is { } method
                ? (method == "none" ? ", not compressed" : $", {method}") + predictor : "";
            yield return ("stored as", $"{storage.NumberType}, {storage.Blocks}{packed}{(storage.HasMask ? ", with a mask" : "")}"
                + $"{(storage.HasColours ? ", with names or colours of classes" : "")}");
            if (storage.Overviews.Count > 0)
                yield return ("overviews", string.Join(", ", storage.Overviews) + " (not used)");
        }

        GridLayer layer = found.Layer;
        if (layer.Scale is not null || layer.Offset is not null || layer.MissingValue is not null)
        {
            yield return ("the file says", $"value = stored x {Number(layer.Scale ?? 1)} + {Number(layer.Offset ?? 0)}, "
                + (layer.MissingValue is { } m ? $"stored {Number(m)} is missing" : "no missing value"));
        }

        if (found.Refusal is { } refusal)
        {
            yield return ("cannot be used", refusal);
            yield break;
        }

        GridPlace place = found.Place!;
        GridLattice cells = place.Lattice;
        yield return ("reference system", place.Crs + (place.Caveat is { } caveat ? $" ({caveat})" : ""));
        yield return ("cells", $"{cells.Columns} x {cells.Rows}, each {Number(cells.CellWidth)} x {Number(cells.CellHeight)} {place.Unit}"
            + (place.CellMetres is { } size ? $", in the middle {size.Width:0.#} x {size.Height:0.#} m on the ground" : ""));
        if (place.Unit != "degrees")
        {
            yield return ("extent in its system",
                $"{Number(cells.West)} to {Number(cells.East)}, {Number(cells.South)} to {Number(cells.North)} {place.Unit}");
        }

        yield return ("extent", $"{Number(place.Ground.WestDegrees)} to {Number(place.Ground.EastDegrees)} degrees east, "
            + $"{Number(place.Ground.SouthDegrees)} to {Number(place.Ground.NorthDegrees)} degrees north"
            + (place.GoesRoundTheEarth ? ", round the Earth" : ""));
        GridStatistics values = found.Values!;
        yield return ("unit", layer.Unit is { Length: > 0 } unit ? unit : "the file says none");
        yield return (values.IsExact ? "no value" : "no value, in a sample", $"{values.MissingShare:0.00 %} of {values.CellsRead} "
            + $"cells{(values.IsExact ? "" : $" (blocks spread evenly, {values.CellsRead / (double)values.Cells:0.0 %} of the grid)")}");
        if (values.Minimum is not null)
        {
            yield return ("values", $"{Number(values.Minimum)} to {Number(values.Maximum)}, mean {Number(values.Mean)}, median "
                + $"{Number(values.Quantile(0.5))}, middle 96 % {Number(values.Quantile(0.02))} to {Number(values.Quantile(0.98))}");
            if (values.AllWhole && values.Distinct is { Count: <= MostListed } different)
                yield return ("different values", string.Join(", ", different.Select(d => Number(d))));
        }

        if (sites is not null)
        {
            yield return ("sites", $"{sites.Sites} in {sites.From}: {sites.WithValue} on a cell with a value, "
                + $"{sites.OnMissing} on one without, {sites.Outside} outside");
        }
    }

    private static string LayerLine(GridLayer layer)
    {
        string name = layer.Variable ?? $"band {layer.Band}";
        string said = (layer.Title is { Length: > 0 } title ? $": {title}" : "")
            + (layer.Unit is { Length: > 0 } unit ? $", unit {unit}" : "");
        return name + said + string.Concat(layer.Dimensions.Select(d => $"; {DimensionText(d)}"));
    }

    private static string DimensionText(GridDimension dimension)
    {
        string steps = dimension.Steps.Count switch
        {
            0 => "no steps",
            1 => dimension.Steps[0],
            <= 8 => string.Join(", ", dimension.Steps),
            _ => $"{dimension.Steps.Count} steps {dimension.Steps[0]} to {dimension.Steps[^1]}",
        };
        if (dimension.IsTime)
        {
            int[] months = MonthsOf(dimension);
            return $"{dimension.Name} "
                + $"{steps}{(months.Length == 12 ? ", every month of the year" : $", months {string.Join(", ", months)}")}";
        }

        return $"{dimension.Name} {steps}{(dimension.Unit is { Length: > 0 } unit ? $" {unit}" : "")}";
    }

    private static string StepOf(GridDimension dimension, string wanted) =>
        wanted.StartsWith('#') && int.TryParse(wanted.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n >= 1
        && n <= dimension.Steps.Count
            ? dimension.Steps[n - 1]
            : wanted;

    private static double? Finite(double value) => double.IsFinite(value) ? value : null;

    private static string Number(double? value) => value is { } v ? $"{v:G7}" : "none";
}
