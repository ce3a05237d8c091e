namespace DecayAtlas.Grids.Formats.Cdf;

internal sealed record CdfDimension(string Name, long Length);

internal sealed record CdfAttribute(string? Text, double[] Numbers);

internal sealed record CdfType(int Bytes, bool IsFloatingPoint, bool IsSigned, bool IsText = false);

/// <summary>A variable: its dimensions from the slowest to the fastest, and its attributes.</summary>
internal sealed record CdfVariable(
    string Name, IReadOnlyList<CdfDimension> Dimensions, CdfType Type, IReadOnlyDictionary<string, CdfAttribute> Attributes)
{
    public string? Text(string attribute) => Attributes.TryGetValue(attribute, out CdfAttribute? found) ? found.Text : null;

    public double? Number(string attribute) =>
        Attributes.TryGetValue(attribute, out CdfAttribute? found) && found.Numbers.Length > 0 ? found.Numbers[0] : null;

    public double[] Numbers(string attribute) => Attributes.TryGetValue(attribute, out CdfAttribute? found) ? found.Numbers : [];
}

/// <summary>A file of variables, whichever of the NetCDF formats holds them.</summary>
internal abstract class CdfFile(string path) : IDisposable
{
    /// <summary>Most values of a coordinate variable; longer ones are refused, so that memory stays bounded.</summary>
    public const int MaxCoordinates = 1 << 22;

    public static bool RecognisesAny(ReadOnlySpan<byte> head) => ClassicFile.Recognises(head) || HdfFile.Recognises(head);

    /// <summary>Opens a file whose first bytes are recognised.</summary>
    public static CdfFile OpenAny(string path) => ClassicFile.Recognises(GridFormat.HeadOf(path)) ? ClassicFile.Open(path)
        : HdfFile.Open(path);

    public string Path => path;

    public IReadOnlyList<CdfVariable> Variables { get; protected set; } = [];

    public CdfVariable? Find(string? name) => Variables.FirstOrDefault(v => v.Name == name);

    /// <summary>Reads a box of stored numbers, the last dimension fastest.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    public abstract void Read(CdfVariable variable, ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<double> values);

    /// <summary>Lengths of the pieces in which a variable is stored, along each dimension; null where it is stored in one.</summary>
    public virtual IReadOnlyList<long>? ChunksOf(CdfVariable variable) => null;

    public double[] ReadAll(CdfVariable variable)
    {
        decimal size = variable.Dimensions.Aggregate(1m, (product, d) => product * d.Length);
        if (size > MaxCoordinates)
        {
            throw new GridException(
                $"{Path}: variable {variable.Name} has {size} values, more than the {MaxCoordinates} that coordinates may have.");
        }

        double[] values = new double[(int)size];
        Read(variable, new long[variable.Dimensions.Count], [.. variable.Dimensions.Select(d => d.Length)], values);
        return values;
    }

    public abstract void Dispose();

    protected GridException Damaged(string what, Exception? cause = null) =>
        new($"{Path} is not a whole NetCDF file: {what}; fetch or make the file again.", cause);
}
