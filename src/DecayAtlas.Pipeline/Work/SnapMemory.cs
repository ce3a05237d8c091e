using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace DecayAtlas.Pipeline.Work;

/// <summary>
/// Samples by layer and place. A place is sampled once for each layer digest, so that a changed grid is sampled anew and the
/// others are not touched. One file for the layers of a covariate: layers, places and samples, behind their own SHA-256.
/// </summary>
internal sealed class SnapMemory(AtlasFolder atlas)
{
    private readonly ConcurrentDictionary<string, IReadOnlyDictionary<SnapPlace, LayerSample>> _byLayer = new(StringComparer.Ordinal);
    private readonly HashSet<string> _loaded = new(StringComparer.Ordinal);

    /// <summary>The sample of a place that was covered before.</summary>
    public LayerSample Of(GridInput input, LayerSource layer, SnapPlace place) => _byLayer[input.DigestOf(layer)][Relevant(layer, place)];

    // only a rule with a circle asks how well a place is known: for the others a new uncertainty needs no new sample
    private static SnapPlace Relevant(LayerSource layer, SnapPlace place) =>
        layer.Rule is SamplingRule.Disc or SamplingRule.Mode
            ? place with { UncertaintyMetres = Math.Min(place.UncertaintyMetres ?? 0, GridSampler.MaxRadiusMetres) }
            : place with { UncertaintyMetres = null };

    /// <summary>Sees to it that every place has a sample of every layer that it needs; of a dated series only the steps that bags felt.</summary>
    /// <returns>How many values were sampled now.</returns>
    public int Cover(GridInput input, Stays stays)
    {
        if (input.Entry.Made.Declared.Count == 0)
            return 0;   // computed from others, which are covered themselves
        string path = Path.Combine(atlas.Cache, "snapped", input.LayersDigest + ".places");
        if (_loaded.Add(input.LayersDigest))
        {
            foreach ((string layer, Dictionary<SnapPlace, LayerSample> samples) in Load(path))
                _byLayer[layer] = samples;
        }

        int sampled = 0;
        foreach ((LayerSource layer, IEnumerable<SnapPlace> places) in NeededOf(input.Entry.Made, stays))
            sampled += Cover(input, layer, places);
        if (sampled > 0)
        {
            string[] layers = [.. input.Entry.Made.Layers.Select(input.DigestOf).Where(_byLayer.ContainsKey)];
            DurableFile.Guard(path, () => DurableFile.Write(path, stream => stream.Write(ToBytes(layers.Select(l => (l, _byLayer[l]))))));
        }

        return sampled;
    }

    private int Cover(GridInput input, LayerSource layer, IEnumerable<SnapPlace> places)
    {
        string digest = input.DigestOf(layer);
        IReadOnlyDictionary<SnapPlace, LayerSample> known = _byLayer.GetOrAdd(digest, _ => new Dictionary<SnapPlace, LayerSample>());
        SnapPlace[] fresh = [.. places.Select(p => Relevant(layer, p)).Distinct().Where(p => !known.ContainsKey(p))];
        if (fresh.Length == 0)
            return 0;

        // others may read what is known meanwhile: a new dictionary takes its place when it is whole
        var grown = new Dictionary<SnapPlace, LayerSample>(known);
        IReadOnlyList<LayerSample> samples = layer.Sample([.. fresh.Select(p => p.Point)], [.. fresh.Select(p => p.UncertaintyMetres)]);
        for (int i = 0; i < fresh.Length; i++)
            grown[fresh[i]] = samples[i];
        _byLayer[digest] = grown;
        return fresh.Length;
    }

    private static IEnumerable<(LayerSource Layer, IEnumerable<SnapPlace> Places)> NeededOf(CovariateMaking making, Stays stays) => making is DatedSeries
        ? stays.Exposures.SelectMany(e => making.LayersOver(e.Days).Select(layer => (Layer: layer, e.Place)))
            .GroupBy(x => x.Layer, x => x.Place).Select(g => (g.Key, g.AsEnumerable()))
        : making.Layers.Select(layer => (layer, (IEnumerable<SnapPlace>)stays.Places));

    /// <summary>Forgets the samples of all other grids.</summary>
    public void KeepOnly(IEnumerable<GridInput> grids)
    {
        HashSet<string> kept = [.. grids.Select(g => g.LayersDigest + ".places")];
        string folder = Path.Combine(atlas.Cache, "snapped");
        foreach (string file in Directory.Exists(folder) ? Directory.GetFiles(folder) : [])
        {
            if (!kept.Contains(Path.GetFileName(file)))
                File.Delete(file);
        }
    }

    private static byte[] ToBytes(IEnumerable<(string Digest, IReadOnlyDictionary<SnapPlace, LayerSample> Samples)> layers)
    {
        using var stream = new MemoryStream();
        stream.Write(new byte[SHA256.HashSizeInBytes]);
        using var writer = new BinaryWriter(stream);
        foreach ((string digest, IReadOnlyDictionary<SnapPlace, LayerSample> samples) in layers)
        {
            writer.Write(digest);
            writer.Write(samples.Count);
            foreach ((SnapPlace place, (GridSample sample, string? label)) in samples
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
                writer.Write(label is not null);
                writer.Write(label ?? "");
            }
        }

        writer.Flush();
        byte[] bytes = stream.ToArray();
        SHA256.HashData(bytes.AsSpan(SHA256.HashSizeInBytes), bytes);
        return bytes;
    }

    private static Dictionary<string, Dictionary<SnapPlace, LayerSample>> Load(string path)
    {
        var layers = new Dictionary<string, Dictionary<SnapPlace, LayerSample>>(StringComparer.Ordinal);
        if (!File.Exists(path))
            return layers;
        byte[] bytes = File.ReadAllBytes(path);
        const int start = SHA256.HashSizeInBytes;
        if (bytes.Length < start || !SHA256.HashData(bytes.AsSpan(start)).AsSpan().SequenceEqual(bytes.AsSpan(0, start)))
            return layers;
        using var reader = new BinaryReader(new MemoryStream(bytes, start, bytes.Length - start));
        while (reader.BaseStream.Position < reader.BaseStream.Length)
        {
            Dictionary<SnapPlace, LayerSample> samples = layers[reader.ReadString()] = [];
            for (int left = reader.ReadInt32(); left > 0; left--)
            {
                var place = new SnapPlace(new GeoPoint(reader.ReadDouble(), reader.ReadDouble()), Number());
                double? value = Number(), distance = Number();
                var (status, rule) = ((SampleStatus)reader.ReadByte(), (SamplingRule)reader.ReadByte());
                var sample = new GridSample(value, status, rule, distance) { StandardDeviation = Number(), ValidShare = Number(), ClassShare = Number() };
                bool isNamed = reader.ReadBoolean();
                string label = reader.ReadString();
                samples[place] = new LayerSample(sample, isNamed ? label : null);
            }
        }

        return layers;

        double? Number() => reader.ReadDouble() is var x && double.IsNaN(x) ? null : x;
    }
}
