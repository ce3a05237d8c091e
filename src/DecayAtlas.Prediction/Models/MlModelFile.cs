using System.IO.Compression;
using Microsoft.ML;

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

    public static ITransformer Read(byte[] archive)
    {
        using var stream = new MemoryStream(archive);
        return new MLContext(0).Model.Load(stream, out _);
    }
}
