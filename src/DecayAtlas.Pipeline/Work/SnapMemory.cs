using System.Collections.Concurrent;
using System.Security.Cryptography;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Grids;

namespace DecayAtlas.Pipeline.Work;

/// <summary>Where to sample: the exact point, and the radius that holds the true place (m), where stated.</summary>
internal readonly record struct SnapPlace(GeoPoint Point, double? UncertaintyMetres);

/// <summary>
/// Samples by grid and place. A place is sampled once for each grid digest, so that a changed grid is sampled anew and the
/// others are not touched. One file a grid: places and samples, behind their own SHA-256.
/// </summary>
internal sealed class SnapMemory(AtlasFolder atlas)
{
    private readonly ConcurrentDictionary<string, IReadOnlyDictionary<SnapPlace, GridSample>> _byGrid = new(StringComparer.Ordinal);

    /// <summary>The sample of a place that <see cref="Cover"/> has covered.</summary>
    public GridSample Of(GridInput grid, SnapPlace place) => _byGrid[grid.Digest][Relevant(grid, place)];

    // only a rule with a circle asks how well a place is known: for the others a new uncertainty needs no new sample
    private static SnapPlace Relevant(GridInput grid, SnapPlace place) =>
        grid.Entry.Rule is SamplingRule.Disc or SamplingRule.Mode
            ? place with { UncertaintyMetres = Math.Min(place.UncertaintyMetres ?? 0, GridSampler.MaxRadiusMetres) }
            : place with { UncertaintyMetres = null };

    /// <summary>Sees to it that every place has a sample of the grid.</summary>
    /// <returns>How many places were sampled now.</returns>
    public int Cover(GridInput input, IReadOnlyCollection<SnapPlace> places)
    {
        string path = Path.Combine(atlas.Cache, "snapped", input.Digest + ".places");
        IReadOnlyDictionary<SnapPlace, GridSample> known = _byGrid.GetOrAdd(input.Digest, _ => Load(path));
        SnapPlace[] fresh = [.. places.Select(p => Relevant(input, p)).Distinct().Where(p => !known.ContainsKey(p))];
        if (fresh.Length == 0)
            return 0;

        // others may read what is known meanwhile: a new dictionary takes its place when it is whole
        var grown = new Dictionary<SnapPlace, GridSample>(known);
        using (Grid grid = input.Entry.Open())
        {
            IReadOnlyList<GridSample> samples = GridSampler.Sample(
                grid, [.. fresh.Select(p => p.Point)], input.Entry.Rule, input.Entry.ValidWithinMetres, [.. fresh.Select(p => p.UncertaintyMetres)]);
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

    private static byte[] ToBytes(Dictionary<SnapPlace, GridSample> samples)
    {
        using var stream = new MemoryStream();
        stream.Write(new byte[SHA256.HashSizeInBytes]);
        using var writer = new BinaryWriter(stream);
        foreach ((SnapPlace place, GridSample sample) in samples
            .OrderBy(s => s.Key.Point.LongitudeDegrees).ThenBy(s => s.Key.Point.LatitudeDegrees).ThenBy(s => s.Key.UncertaintyMetres))
        {
            writer.Write(place.Point.LongitudeDegrees);
            writer.Write(place.Point.LatitudeDegrees);
            writer.Write(place.UncertaintyMetres ?? double.NaN);
            writer.Write(sample.Value ?? double.NaN);
            writer.Write(sample.DistanceMetres ?? double.NaN);
            writer.Write((byte)sample.Status);
            writer.Write((byte)sample.Rule);
            writer.Write(sample.StandardDeviation ?? double.NaN);
            writer.Write(sample.ValidShare ?? double.NaN);
            writer.Write(sample.ClassShare ?? double.NaN);
        }

        writer.Flush();
        byte[] bytes = stream.ToArray();
        SHA256.HashData(bytes.AsSpan(SHA256.HashSizeInBytes), bytes);
        return bytes;
    }

    private static Dictionary<SnapPlace, GridSample> Load(string path)
    {
        var samples = new Dictionary<SnapPlace, GridSample>();
        if (!File.Exists(path))
            return samples;
        byte[] bytes = File.ReadAllBytes(path);
        const int start = SHA256.HashSizeInBytes;
        if (bytes.Length < start || !SHA256.HashData(bytes.AsSpan(start)).AsSpan().SequenceEqual(bytes.AsSpan(0, start)))
            return samples;
        using var reader = new BinaryReader(new MemoryStream(bytes, start, bytes.Length - start));
        while (reader.BaseStream.Position < reader.BaseStream.Length)
        {
            var place = new SnapPlace(new GeoPoint(reader.ReadDouble(), reader.ReadDouble()), Number());
            double? value = Number(), distance = Number();
            var (status, rule) = ((SampleStatus)reader.ReadByte(), (SamplingRule)reader.ReadByte());
            samples[place] = new GridSample(value, status, rule, distance) { StandardDeviation = Number(), ValidShare = Number(), ClassShare = Number() };
        }

        return samples;

        double? Number() => reader.ReadDouble() is var x && double.IsNaN(x) ? null : x;
    }
}
