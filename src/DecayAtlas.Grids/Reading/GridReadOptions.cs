namespace DecayAtlas.Grids.Reading;

/// <summary>What the reader of a file knows better than the file. Null leaves it to the file.</summary>
/// <param name="Scale">Factor of the stored values, in place of the file's.</param>
/// <param name="Offset">Added after scaling, in place of the file's.</param>
/// <param name="MissingValue">Stored (unscaled) value that means missing, in place of the file's.</param>
/// <param name="Crs">Coordinate reference system of a file that names none: a code such as EPSG:4326, or well-known text.</param>
/// <param name="Variable">Variable of a NetCDF file; may be left out where it holds one grid.</param>
/// <param name="Select">
/// Step of each further dimension of a NetCDF variable, by the dimension's name: a coordinate ("0.15"), a date or month for
/// time ("1999-07-16", "1999-07", "month 7"), or a number in the order of the file ("#2").
/// </param>
public sealed record GridReadOptions(
    int Band = 1,
    double? Scale = null,
    double? Offset = null,
    double? MissingValue = null,
    string? Crs = null,
    string? Variable = null,
    IReadOnlyDictionary<string, string>? Select = null)
{
    /// <summary>From where and at what cost files may be read over the network; from nowhere unless stated.</summary>
    public RemoteGrids Remote { get; init; } = RemoteGrids.None;

    /// <summary>The selected steps by the names of their dimensions, in one order.</summary>
    internal string Steps => string.Join(';', (Select ?? new Dictionary<string, string>())
        .OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => $"{s.Key}={s.Value}"));

    /// <summary>The same at a step of one more dimension.</summary>
    internal GridReadOptions At(string dimension, string step) =>
        this with { Select = new Dictionary<string, string>(Select ?? new Dictionary<string, string>()) { [dimension] = step } };
}
