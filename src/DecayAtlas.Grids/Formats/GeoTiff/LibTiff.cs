using BitMiracle.LibTiff.Classic;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// The door to the codec library: quiet (it prints to standard error by default), with the private tags registered,
/// and with every failure turned into a <see cref="GridException"/>.
/// </summary>
internal static class LibTiff
{
    public const int ModelPixelScale = 33550;
    public const int ModelTiePoint = 33922;
    public const int ModelTransformation = 34264;
    public const int GeoKeyDirectory = 34735;
    public const int GeoDoubleParams = 34736;
    public const int GeoAsciiParams = 34737;
    public const int GdalMetadata = 42112;
    public const int GdalNoData = 42113;

    [ThreadStatic]
    private static string? _lastError;

    static LibTiff()
    {
        Tiff.SetErrorHandler(new QuietErrors());
        TiffFieldInfo[] fields =
        [
            Field(ModelPixelScale, TiffType.DOUBLE, "ModelPixelScale"),
            Field(ModelTiePoint, TiffType.DOUBLE, "ModelTiePoint"),
            Field(GeoKeyDirectory, TiffType.SHORT, "GeoKeyDirectory"),
            Field(GeoAsciiParams, TiffType.ASCII, "GeoAsciiParams"),
            Field(GdalMetadata, TiffType.ASCII, "GDALMetadata"),
            Field(GdalNoData, TiffType.ASCII, "GDALNoData"),
        ];
        Tiff.TiffExtendProc? before = null;
        before = Tiff.SetTagExtender(tiff =>
        {
            tiff.MergeFieldInfo(fields, fields.Length);
            before?.Invoke(tiff);
        });
    }

    /// <summary>Runs one call of the library; anything it throws, or a null or false answer, becomes one sentence.</summary>
    public static T Call<T>(string path, string doing, Func<T> call)
    {
        _lastError = null;
        T result;
        try
        {
            result = call();
        }
        catch (Exception e) when (e is not GridException)
        {
            // The library answers some damaged files with index, null and overflow errors of its own.
            throw new GridException($"{path}: {doing} failed: {Reason(e.Message)}.", e);
        }

        if (result is null or false)
            throw new GridException($"{path}: {doing} failed: {Reason("the file is damaged")}.");

        return result;
    }

    private static string Reason(string otherwise) => (_lastError ?? otherwise).TrimEnd('.', '\n', ' ');

    private static TiffFieldInfo Field(int tag, TiffType type, string name) => new((TiffTag)tag, TiffFieldInfo.Variable,
        TiffFieldInfo.Variable, type, FieldBit.Custom, okToChange: true, passCount: type != TiffType.ASCII, name);

    private sealed class QuietErrors : TiffErrorHandler
    {
        public override void ErrorHandler(Tiff tif, string method, string format, params object[] args) =>
            _lastError = args is { Length: > 0 }
                ? string.Format(System.Globalization.CultureInfo.InvariantCulture, format, args)
                : format;

        public override void ErrorHandlerExt(Tiff tif, object clientData, string method, string format, params object[] args)
        {
        }

        public override void WarningHandler(Tiff tif, string method, string format, params object[] args)
        {
        }

        public override void WarningHandlerExt(Tiff tif, object clientData, string method, string format, params object[] args)
        {
        }
    }
}
