using System.Globalization;

namespace DecayAtlas.Grids.Inspection;

/// <summary>
/// Finds values that cannot be in the unit that a catalogue states. The limits are the widest that occur on Earth near the
/// ground, rounded outward (common practice, no source).
/// </summary>
internal static class ValueCheck
{
    /// <summary>Numbers that writers leave for "missing" (common practice, no source).</summary>
    private static readonly double[] Fills =
        [-9999, -99999, -999, -32768, 32767, 65535, 255, -128, -2147483648d, 1e20, -1e20, 9.96920996838687e36, -3.4028234663852886e38,
        3.4028234663852886e38, -1.7e308, -1.7976931348623157e308];

    public static IEnumerable<CatalogueFinding> Of(CatalogueEntry entry, GridLayer? layer, GridStatistics values)
    {
        if (values.Minimum is not { } lowest || values.Maximum is not { } highest)
        {
            yield return Found("no-values",
                "no cell that was looked at has a value; check the missing value and the step that is selected.");
            yield break;
        }

        double scale = entry.Scale ?? layer?.Scale ?? 1, offset = entry.Offset ?? layer?.Offset ?? 0;
        if (FillIn(values, scale, offset) is { } fill)
        {
            yield return Found("undeclared-missing",
                $"the stored value {Text(fill)} stands far from all others and is what writers leave for missing; write missing: "
                + $"{Text(fill)}.");
            yield break; // what follows would be told by the same cells
        }

        if (lowest == highest && values.CellsRead > 100 && !entry.IsClass)
            yield return Found("constant", $"every value is {Text(lowest)}; check the band or variable, and the step that is selected.");

        if (entry.IsClass)
        {
            if (!values.AllWhole || values.Distinct is null)
            {
                string kinds = values.AllWhole ? $"of more than {GridStatistics.MostDistinct} kinds" : "no whole numbers";
                yield return Found("looks-continuous", $"it is of kind class, and its values are {kinds}; write kind: continuous.");
            }

            yield break;
        }

        if (LooksLikeClasses(entry, layer, values))
        {
            string colours = layer?.Storage?.HasColours == true ? ", with a table of colours or names" : "";
            yield return Found("looks-like-classes",
                $"it is of kind continuous with rule {entry.Rule.ToString().ToLowerInvariant()}, and its values look like class codes "
                + $"({values.Distinct!.Count} whole numbers{colours}), which are never interpolated; write kind: class and rule: nearest "
                + "or rule: mode.");
        }

        if (Suspicion(entry, values.Quantile(0.02)!.Value, values.Quantile(0.98)!.Value, lowest, highest, scale, offset) is { } suspicion)
            yield return Found("suspicious-values", $"values from {Text(lowest)} to {Text(highest)} {suspicion}.");

        CatalogueFinding Found(string code, string sentence) => new(code, entry.Name, sentence);
    }

    private static string? Suspicion(CatalogueEntry entry, double low, double high, double lowest, double highest, double scale,
        double offset)
    {
        string unit = entry.Unit, said = unit.Trim().Length == 0 ? "nothing" : unit;
        switch (Quantity.Of(entry.Name, entry.Title, unit), Quantity.UnitOf(unit))
        {
            case (QuantityKind.Temperature, "K"):
                return low > -90 && high < 60 ? "look like degrees Celsius and the unit says K; write unit: degC"
                    : low > 1800 && high < 3400 ? $"look like tenths of a kelvin; write scale: {Text(scale / 10)}"
                    : low < 150 || high > 370 ? "are no temperatures in kelvin; check unit, scale and offset" : null;
            case (QuantityKind.Temperature, _):
                return low > 180 && high < 340
                    ? $"look like kelvin and the unit says {said}; write offset: {Text(offset - 273.15)}, or unit: K"
                    : low >= -90 && high <= 60 ? null
                    : low >= -900 && high <= 600
                        ? $"look like tenths of a degree and the unit says {said}; write scale: {Text(scale / 10)}"
                    : low >= -9000 && high <= 6000
                        ? $"look like hundredths of a degree and the unit says {said}; write scale: {Text(scale / 100)}"
                    : "are no temperatures in degrees Celsius; check unit, scale, offset and missing value";
            case (QuantityKind.Precipitation, "m"):
                return high > 20 ? "look like millimetres and the unit says m; write unit: mm" : null;
            case (QuantityKind.Precipitation, _):
                return lowest < 0 ? "hold precipitation below 0; check scale, offset and missing value"
                    : high > 0 && high < 0.01
                        ? $"look like kg m-2 s-1 (mm a second) and the unit says {said}; multiply by the seconds of the period "
                        + "with scale:"
                    : !Quantity.IsDaily(unit) && high > 0 && high < (Quantity.IsYearly(entry.Name, entry.Title, unit) ? 12 : 1)
                        ? $"look like metres and the unit says {said}; write scale: {Text(scale * 1000)}"
                    : high > 20_000 ? $"look like tenths of a millimetre or less; write scale: {Text(scale / 10)}, after the source" : null;
            case (QuantityKind.Acidity, _):
                return low >= 1.5 && high <= 12 ? null
                    : low >= 15 && high <= 120 ? $"look like pH x 10; write scale: {Text(scale / 10)}"
                    : low >= 150 && high <= 1200 ? $"look like pH x 100; write scale: {Text(scale / 100)}"
                    : "are no pH; check scale and missing value";
            case (QuantityKind.Elevation, _):
                return lowest < -500 || highest > 9000 ? "are no heights on land in metres; check unit, scale and missing value" : null;
            case (QuantityKind.Density, _):
                return high > 300 ? $"look like kg/m3 and the unit says {said}; write scale: {Text(scale / 1000)}"
                    : high > 10 ? $"look like hundredths of g/cm3; write scale: {Text(scale / 100)}" : null;
            case (_, "%"):
                return highest is > 0 and <= 1
                    ? $"look like fractions and the unit says {said}; write scale: {Text(scale * 100)}, or unit: \"1\""
                    : lowest >= 0 && highest <= 100.5 ? null
                    : lowest >= 0 && highest <= 1005
                        ? $"look like tenths of a percent (g/kg) and the unit says {said}; write scale: {Text(scale / 10)}"
                    : "are no percentages; check unit, scale and missing value";
            case (_, "1")
                when $"{entry.Name} {entry.Title}" is var words
                    && (words.Contains("fraction", StringComparison.OrdinalIgnoreCase)
                        || words.Contains("share", StringComparison.OrdinalIgnoreCase)):
                return highest <= 1.01 ? null
                    : highest <= 100.5
                        ? $"look like percent and the unit says a pure number; write scale: {Text(scale / 100)}, or unit: \"%\""
                    : $"are no fractions; check unit, scale and missing value";
            default:
                return null;
        }
    }

    // The far end of a byte is a class or a percentage more often than a fill value, so that the gap must be wide.
    private static double? FillIn(GridStatistics values, double scale, double offset)
    {
        double low = values.Quantile(0.02)!.Value, high = values.Quantile(0.98)!.Value, median = values.Quantile(0.5)!.Value;
        foreach (double fill in Fills)
        {
            double value = fill * scale + offset;
            bool isEnd = Near(value, values.Minimum!.Value) || Near(value, values.Maximum!.Value);
            // The fill value may be so common that it is a quantile itself.
            double spread = Near(value, low) ? high - median : Near(value, high) ? median - low : high - low;
            double from = value > median ? (Near(value, high) ? median : high) : (Near(value, low) ? median : low);
            if (isEnd && !Near(value, median)
                && Math.Abs(value - from) > Math.Max(Math.Abs(fill) <= 255 ? 2 * spread : spread, 10 * Math.Abs(scale)))
            {
                return fill;
            }
        }

        return null;
    }

    private static bool LooksLikeClasses(CatalogueEntry entry, GridLayer? layer, GridStatistics values) =>
        values is { AllWhole: true, Distinct.Count: > 1 } && entry.Scale is null or 1
        && (layer?.Storage?.HasColours == true
            || (values.Distinct!.Count <= 40 && values.CellsRead >= 10_000 && values.Distinct[0] >= 0
                && Quantity.UnitOf(entry.Unit) is null or "1" && entry.Unit.Trim() is "" or "1"));

    private static bool Near(double a, double b) => a == b || Math.Abs(a - b) <= 1e-6 * Math.Abs(a);

    private static string Text(double value) => value.ToString("G7", CultureInfo.InvariantCulture);
}
