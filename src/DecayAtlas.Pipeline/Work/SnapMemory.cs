using System.Collections.Concurrent;
using System.Security.Cryptography;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Grids;

namespace DecayAtlas.Pipeline.Work;

/// <summary>
/// Samples by grid and place. A place is sampled once for each grid digest, so that a changed grid is sampled anew and the
/// others are not touched. One file a grid: places and samples, behind their own SHA-256.
/// </summary>
internal sealed class SnapMemory(AtlasFolder atlas)
{
    private readonly ConcurrentDictionary<string, IReadOnlyDictionary<GeoPoint, GridSample>> _byGrid = new(StringComparer.Ordinal);

    /// <summary>The sample of a place that <see cref="Cover"/> has covered.</summary>
    public GridSample Of(GridInput grid, GeoPoint place) => _byGrid[grid.Digest][place];

    /// <summary>Sees to it that every place has a sample of the grid.</summary>
    /// <returns>How many places were sampled now.</returns>
    public int Cover(GridInput input, IReadOnlyCollection<GeoPoint> places)
    {
        string path = Path.Combine(atlas.Cache, "snapped", input.Digest + ".places");
        IReadOnlyDictionary<GeoPoint, GridSample> known = _byGrid.GetOrAdd(input.Digest, _ => Load(path));
        GeoPoint[] fresh = [.. places.Distinct().Where(p => !known.ContainsKey(p))];
        if (fresh.Length == 0)
            return 0;

        // others may read what is known meanwhile: a new dictionary takes its place when it is whole
        var grown = new Dictionary<GeoPoint, GridSample>(known);
        using (Grid grid = input.Entry.Open())
        {
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, fresh, input.Entry.Rule, input.Entry.ValidWithinMetres);
            for (int i = 0; i < fresh.Length; i++)
                grown[fresh[i]] = samples[i];
        }

        _byGrid[input.Digest] = grown;
        DurableFile.Guard(path, () => DurableFile.Write(path, stream => stream.Write(ToBytes(grown))));
        return fresh.Length;
    }

    /// <summary>Forgets the samples of all other grids.</summary>
    public void KeepOnly(IEnumerable<GridInput> grids)
    {
        HashSet<string> kept = [.. grids.Select(g => g.Digest + ".places")];
        string folder = Path.Combine(atlas.Cache, "snapped");
        foreach (string file in Directory.Exists(folder) ? Directory.GetFiles(folder) : [])
        {
            if (!kept.Contains(Path.GetFileName(file)))
                File.Delete(file);
        }
    }

    private static byte[] ToBytes(Dictionary<GeoPoint, GridSample> samples)
    {
        using var stream = new MemoryStream();
        stream.Write(new byte[SHA256.HashSizeInBytes]);
        using var writer = new BinaryWriter(stream);
        foreach ((GeoPoint place, GridSample sample) in samples.OrderBy(s => s.Key.LongitudeDegrees).ThenBy(s => s.Key.LatitudeDegrees))
        {
            writer.Write(place.LongitudeDegrees);
            writer.Write(place.LatitudeDegrees);
            writer.Write(sample.Value ?? double.NaN);
            writer.Write(sample.DistanceMetres ?? double.NaN);
            writer.Write((byte)sample.Status);
            writer.Write((byte)sample.Rule);
        }

        writer.Flush();
        byte[] bytes = stream.ToArray();
        SHA256.HashData(bytes.AsSpan(SHA256.HashSizeInBytes), bytes);
        return bytes;
    }

    private static Dictionary<GeoPoint, GridSample> Load(string path)
    {
        var samples = new Dictionary<GeoPoint, GridSample>();
        if (!File.Exists(path))
            return samples;
        byte[] bytes = File.ReadAllBytes(path);
        const int start = SHA256.HashSizeInBytes;
        if (bytes.Length < start || !SHA256.HashData(bytes.AsSpan(start)).AsSpan().SequenceEqual(bytes.AsSpan(0, start)))
            return samples;
        using var reader = new BinaryReader(new MemoryStream(bytes, start, bytes.Length - start));
        while (reader.BaseStream.Position < reader.BaseStream.Length)
        {
            var place = new GeoPoint(reader.ReadDouble(), reader.ReadDouble());
            double value = reader.ReadDouble(), distance = reader.ReadDouble();
            samples[place] = new GridSample(
                double.IsNaN(value) ? null : value, (SampleStatus)reader.ReadByte(), (SamplingRule)reader.ReadByte(), double.IsNaN(distance) ? null : distance);
        }

        return samples;
    }
}
