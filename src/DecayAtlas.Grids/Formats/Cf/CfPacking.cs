namespace DecayAtlas.Grids.Formats.Cf;

/// <summary>From stored numbers to values (CF conventions 1.11, sections 2.5.1 and 8.1; the attribute _Unsigned of the NetCDF users'
/// guide).</summary>
internal sealed class CfPacking(double[] missing, double low, double high, double scale, double offset, double wrap)
{
    public static CfPacking Of(CdfVariable variable, GridReadOptions options)
    {
        CdfType type = variable.Type;
        bool unsigned = !type.IsFloatingPoint && type.IsSigned
            && string.Equals(variable.Text("_Unsigned"), "true", StringComparison.OrdinalIgnoreCase);
        double wrap = unsigned ? Math.Pow(2, 8 * type.Bytes) : 0;
        double[] missing = options.MissingValue is { } stated
            ? [type is { IsFloatingPoint: true, Bytes: 4 } ? (float)stated : stated]
            : [.. variable.Numbers("_FillValue"), .. variable.Numbers("missing_value")];
        if (options.MissingValue is null && variable.Numbers("_FillValue").Length == 0 && DefaultFill(type) is { } never)
            missing = [.. missing, never];

        // An attribute may be stored wider than the variable; it means what the variable can hold.
        missing = [.. missing.Select(m => type is { IsFloatingPoint: true, Bytes: 4 } ? (float)m : unsigned && m < 0 ? m + wrap : m)];
        double[] range = variable.Numbers("valid_range");
        double low = range.Length == 2 ? range[0] : variable.Number("valid_min") ?? double.NegativeInfinity;
        double high = range.Length == 2 ? range[1] : variable.Number("valid_max") ?? double.PositiveInfinity;
        if (unsigned)
            (low, high) = (low is < 0 and > double.NegativeInfinity ? low + wrap : low, high < 0 ? high + wrap : high);

        return new CfPacking(
            missing, low, high,
            options.Scale ?? variable.Number("scale_factor") ?? 1,
            options.Offset ?? variable.Number("add_offset") ?? 0,
            wrap);
    }

    public double Unpack(double stored)
    {
        double raw = stored < 0 ? stored + wrap : stored;
        // Written so that not-a-number is missing too.
        return raw >= low && raw <= high && Array.IndexOf(missing, raw) < 0 ? raw * scale + offset : double.NaN;
    }

    /// <summary>What the libraries leave where nothing was ever written; bytes have no such value.</summary>
    private static double? DefaultFill(CdfType type) => (type.Bytes, type.IsFloatingPoint, type.IsSigned) switch
    {
        (2, false, true) => -32767,
        (2, false, false) => 65535,
        (4, false, true) => -2147483647,
        (4, false, false) => 4294967295,
        (4, true, _) => 9.9692099683868690e+36f,
        (8, true, _) => 9.9692099683868690e+36,
        (8, false, true) => -9223372036854775806,
        (8, false, false) => 18446744073709551614,
        _ => null,
    };
}
