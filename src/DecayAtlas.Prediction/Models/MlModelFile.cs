using System.IO.Compression;
using Microsoft.ML;
using Microsoft.ML.Data;

namespace DecayAtlas.Prediction;

/// <summary>
/// ML.NET's model archive with the same bytes for the same model. ML.NET stamps the time of saving into each entry, so the
/// entries are written anew in ordinal order with one fixed time.
/// </summary>
internal static class MlModelFile
{
    // The first moment a zip entry can carry.
    private static readonly DateTimeOffset FixedTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static byte[] Write(MLContext ml, ITransformer transformer, DataViewSchema schema)
    {
        using var stamped = new MemoryStream();
        ml.Model.Save(transformer, schema, stamped);
        stamped.Position = 0;
        using var source = new ZipArchive(stamped, ZipArchiveMode.Read);
        using var result = new MemoryStream();
        using (var target = new ZipArchive(result, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var entry in source.Entries.OrderBy(e => e.FullName, StringComparer.Ordinal))
            {
                var copy = target.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = FixedTime;
                using var from = entry.Open();
                using var to = copy.Open();
                from.CopyTo(to);
            }
        }
        return result.ToArray();
    }

    /// <summary>The model as an ONNX graph: input <c>Features</c> (rows x covariates, single precision), output <c>Score.output</c> (ln k, or S).</summary>
    public static byte[] Onnx(MLContext ml, ITransformer transformer, int featureCount)
    {
        var schema = SchemaDefinition.Create(typeof(FeaturesOnly));
        schema[nameof(FeaturesOnly.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, featureCount);
        var view = ml.Data.LoadFromEnumerable([new FeaturesOnly { Features = new float[featureCount] }], schema);
        using var stream = new MemoryStream();
        ml.Model.ConvertToOnnx(transformer, view, stream);
        return stream.ToArray();
    }

    public static ITransformer Read(byte[] archive)
    {
        using var stream = new MemoryStream(archive);
        return new MLContext(0).Model.Load(stream, out _);
    }

    private sealed class FeaturesOnly
    {
        public float[] Features { get; set; } = [];
    }
}
