using System.IO.Compression;
using Microsoft.ML;
using Microsoft.ML.Data;

namespace DecayAtlas.Prediction.Models;

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
        using MemoryStream stamped = new();
        ml.Model.Save(transformer, schema, stamped);
        stamped.Position = 0;
        using ZipArchive source = new(stamped, ZipArchiveMode.Read);
        using MemoryStream result = new();
        using (ZipArchive target = new(result, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (ZipArchiveEntry entry in source.Entries.OrderBy(e => e.FullName, StringComparer.Ordinal))
            {
                ZipArchiveEntry copy = target.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = FixedTime;
                using Stream from = entry.Open();
                using Stream to = copy.Open();
                from.CopyTo(to);
            }
        }
        return result.ToArray();
    }

    /// <summary>The model as an ONNX graph: input <c>Features</c> (rows x covariates, single precision), output <c>Score.output</c> (ln k,
    /// or S).</summary>
    public static byte[] Onnx(MLContext ml, ITransformer transformer, int featureCount)
    {
        SchemaDefinition schema = SchemaDefinition.Create(typeof(FeaturesOnly));
        schema[nameof(FeaturesOnly.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, featureCount);
        IDataView view = ml.Data.LoadFromEnumerable([new FeaturesOnly { Features = new float[featureCount] }], schema);
        using MemoryStream stream = new();
        ml.Model.ConvertToOnnx(transformer, view, stream);
        return stream.ToArray();
    }

    public static ITransformer Read(byte[] archive)
    {
        using MemoryStream stream = new(archive);
        return new MLContext(0).Model.Load(stream, out _);
    }

    private sealed class FeaturesOnly
    {
        public float[] Features { get; set; } = [];
    }
}
