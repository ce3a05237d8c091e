using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>The evidence of contributors, one file a key, each behind its own SHA-256.</summary>
internal sealed class EvidenceMemory(AtlasFolder atlas)
{
    private string Folder => Path.Combine(atlas.Cache, "evidence");

    private string PathOf(string key) => Path.Combine(Folder, key + ".evidence");

    public void Save(string key, Evidence evidence)
    {
        string path = PathOf(key);
        byte[] bytes = ToBytes(evidence);
        DurableFile.Guard(path, () => DurableFile.WriteLazily(path, stream =>
        {
            stream.Write(SHA256.HashData(bytes));
            stream.Write(bytes);
        }));
    }

    /// <summary>The evidence kept under a key; <see langword="null"/> where it is not there or not whole.</summary>
    public Evidence? Load(string key)
    {
        string path = PathOf(key);
        if (!File.Exists(path))
            return null;
        byte[] bytes = File.ReadAllBytes(path);
        const int start = SHA256.HashSizeInBytes;
        return bytes.Length >= start && SHA256.HashData(bytes.AsSpan(start)).AsSpan().SequenceEqual(bytes.AsSpan(0, start))
            ? FromBytes(new MemoryStream(bytes, start, bytes.Length - start))
            : null;
    }

    /// <summary>Deletes the evidence of all other keys.</summary>
    public void KeepOnly(IEnumerable<string> keys)
    {
        if (!Directory.Exists(Folder))
            return;
        HashSet<string> kept = [.. keys.Select(k => k + ".evidence")];
        foreach (string file in Directory.EnumerateFiles(Folder).Where(f => !kept.Contains(Path.GetFileName(f))))
            File.Delete(file);
    }

    private static byte[] ToBytes(Evidence evidence)
    {
        using var stream = new MemoryStream();
        using (var writer = new BinaryWriter(stream, Encoding.UTF8))
        {
            writer.Write(evidence.Sites.Count);
            foreach (SiteEvidence s in evidence.Sites)
            {
                foreach (string text in new[] { s.SiteContributionId, s.SiteId, s.ContributionId, s.Campaign })
                    writer.Write(text);
                writer.Write(s.IsSensitive);
                writer.Write(s.LatitudeDegrees);
                writer.Write(s.LongitudeDegrees);
                writer.Write(s.Covariates.Count);
                foreach (double value in s.Covariates)
                    writer.Write(value);
                Write(writer, s.LnRate);
                Write(writer, s.Stabilisation);
            }

            writer.Write(evidence.Replicates.Count);
            foreach (ReplicateEvidence r in evidence.Replicates)
            {
                writer.Write(r.ContributionId);
                writer.Write(r.BurialId);
                writer.Write(r.Ecosystem is not null);
                writer.Write(r.Ecosystem ?? "");
                writer.Write(r.Campaign);
                writer.Write(r.Group);
                foreach (double number in new[] { r.Pair.X, r.Pair.Y, r.Pair.VarianceX, r.Pair.VarianceY, r.Pair.Covariance })
                    writer.Write(number);
            }

            writer.Write(evidence.Fillings.Count);
            foreach (FillingEvidence f in evidence.Fillings)
            {
                writer.Write(f.ContributionId);
                writer.Write(f.LotId);
                writer.Write(f.Bags);
                writer.Write(f.MeanGrams);
                writer.Write(f.SumOfSquares);
            }

            writer.Write(evidence.Masses.Count);
            foreach (MassEvidence m in evidence.Masses)
            {
                writer.Write(m.ContributionId);
                writer.Write(m.BurialId);
                writer.Write(m.Print);
            }
        }

        return stream.ToArray();
    }

    private static Evidence FromBytes(Stream stream)
    {
        using var reader = new BinaryReader(stream, Encoding.UTF8);
        var words = new HashSet<string>(StringComparer.Ordinal);
        return new Evidence(
            List(() => new SiteEvidence(
                reader.ReadString(), reader.ReadString(), reader.ReadString(), reader.ReadString(), reader.ReadBoolean(), reader.ReadDouble(), reader.ReadDouble(),
                List(reader.ReadDouble), Summary(), Summary())),
            List(() => new ReplicateEvidence(
                Word(), reader.ReadString(), reader.ReadBoolean() ? Word() : Nothing(), Word(), reader.ReadInt32(),
                new Replicate(reader.ReadDouble(), reader.ReadDouble(), reader.ReadDouble(), reader.ReadDouble(), reader.ReadDouble()))),
            List(() => new FillingEvidence(reader.ReadString(), reader.ReadString(), reader.ReadInt32(), reader.ReadDouble(), reader.ReadDouble())),
            List(() => new MassEvidence(Word(), reader.ReadString(), reader.ReadUInt64())));

        T[] List<T>(Func<T> read)
        {
            var items = new T[reader.ReadInt32()];
            for (int i = 0; i < items.Length; i++)
                items[i] = read();
            return items;
        }

        // the few words that come again and again are kept once
        string Word()
        {
            string word = reader.ReadString();
            if (words.TryGetValue(word, out string? known))
                return known;
            words.Add(word);
            return word;
        }

        string? Nothing()
        {
            reader.ReadString();
            return null;
        }

        SampleSummary? Summary()
        {
            if (!reader.ReadBoolean())
                return null;
            (int count, double mean) = (reader.ReadInt32(), reader.ReadDouble());
            return new SampleSummary(count, mean, Number(), Number(), Number());
        }

        double? Number() => reader.ReadDouble() is var x && double.IsNaN(x) ? null : x;
    }

    private static void Write(BinaryWriter writer, SampleSummary? summary)
    {
        writer.Write(summary is not null);
        if (summary is null)
            return;
        writer.Write(summary.Count);
        writer.Write(summary.Mean);
        foreach (double? number in new[] { summary.Sd, summary.Lower95, summary.Upper95 })
            writer.Write(number ?? double.NaN);
    }
}
