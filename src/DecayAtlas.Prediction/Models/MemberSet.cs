using System.IO.Compression;
using System.Text;
using System.Text.Json;
using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Models;

/// <summary>What the members of a model make of a row: the variance of its prediction from the choice of sites, and from the lots and
/// batches that they share, on the scale of the target.</summary>
internal readonly record struct MemberVariances(double OfSites, double OfShared)
{
    public double Sum => OfSites + OfShared;
}

/// <summary>
/// Models of the same kind, each of sites drawn anew, with the errors of lots and batches drawn anew. They come in pairs: both of a pair
/// are of the same sites, and their drawn errors have opposite signs. So the mean of a pair says what the choice of sites does to a
/// prediction, and half their difference what lots and batches do.
/// </summary>
/// <param name="members">Two by two.</param>
/// <param name="blocks">Of which sites were drawn.</param>
internal sealed class MemberSet(IReadOnlyList<RatePredictor> members, int blocks)
{
    private const string FormulasFile = "members.json", TreesFile = "members.bin";
    private const int RowsAtATime = 256, Version = 1;

    private readonly SpatialField? _field = FieldOf(members);

    public int Count => members.Count;

    public int Pairs => members.Count / 2;

    public int Blocks => blocks;

    /// <summary>By how much more than its standard deviation the interval of what members tell reaches.</summary>
    public double QuantileOf(double level) => QuantileOf(level, Count, blocks);

    public static double QuantileOf(double level, int members, int blocks) =>
        StudentT.InvCDF(0, 1, FreedomOf(members, blocks), (1 + level) / 2);

    public int DegreesOfFreedom => FreedomOf(Count, blocks);

    /// <summary>Neither more pairs than were drawn nor more blocks than there are tell how far a prediction scatters.</summary>
    private static int FreedomOf(int members, int blocks) => Math.Max(1, Math.Min(members / 2, blocks) - 1);

    public static bool IsFile(string name) => name is FormulasFile or TreesFile;

    /// <summary>What every member predicts; the values of one member follow those of the one before, as many as there are rows.</summary>
    /// <param name="places">Of the rows, or none where they are not known.</param>
    public double[] Predict(ReadOnlySpan<float> features, int rows, ReadOnlySpan<GeoPoint> places = default)
    {
        double[] values = new double[members.Count * rows];
        for (int m = 0; m < members.Count; m++)
            members[m].Predict(features, values.AsSpan(m * rows, rows));
        // all are of the same sites, so that how like a place is to these is asked once
        if (_field is { } field)
        {
            double[] likeness = new double[field.Count];
            for (int row = 0; row < places.Length; row++)
            {
                if (!field.LikenessOf(places[row], likeness))
                    continue;
                for (int m = 0; m < members.Count; m++)
                    values[m * rows + row] += members[m].OfPlace!.At(likeness);
            }
        }
        return values;
    }

    /// <summary>By pair and row, how far the choice of sites moves a prediction from the mean of all pairs, so scaled that the squares sum
    /// to its variance.</summary>
    public double[][] OfSites(ReadOnlySpan<float> features, int rows)
    {
        if (Pairs < 2 || blocks < 2)
            return [];
        double[] values = Predict(features, rows);
        double scale = Math.Sqrt(blocks / (blocks - 1.0) / (Pairs - 1));
        double[][] means = [.. Enumerable.Range(0, Pairs).Select(pair => Enumerable.Range(0, rows)
            .Select(r => (values[2 * pair * rows + r] + values[(2 * pair + 1) * rows + r]) / 2).ToArray())];
        for (int r = 0; r < rows; r++)
        {
            double mean = means.Average(pair => pair[r]);
            foreach (double[] pair in means)
                pair[r] = (pair[r] - mean) * scale;
        }
        return means;
    }

    /// <summary>Variances of the predictions of rows.</summary>
    /// <param name="places">Of the rows, or none where they are not known.</param>
    public void Variances(ReadOnlySpan<float> features, Span<MemberVariances> variances, ReadOnlySpan<GeoPoint> places = default) =>
        Variances(features, [], variances, places);

    /// <summary>Variances of the differences between the predictions of rows and of others at the same places: what a place adds stands on
    /// both sides.</summary>
    public void Variances(ReadOnlySpan<float> features, ReadOnlySpan<float> others, Span<MemberVariances> variances) =>
        Variances(features, others, variances, []);

    private void Variances(ReadOnlySpan<float> features, ReadOnlySpan<float> others, Span<MemberVariances> variances,
        ReadOnlySpan<GeoPoint> places)
    {
        int width = members.Count == 0 ? 0 : members[0].FeatureCount;
        double[] deviations = new double[members.Count];
        for (int from = 0; from < variances.Length; from += RowsAtATime)
        {
            int count = Math.Min(RowsAtATime, variances.Length - from);
            double[] values = Predict(features.Slice(from * width, count * width), count,
                places.IsEmpty ? places : places.Slice(from, count));
            double[] less = others.IsEmpty ? [] : Predict(others.Slice(from * width, count * width), count);
            for (int row = 0; row < count; row++)
            {
                for (int m = 0; m < deviations.Length; m++)
                    deviations[m] = values[m * count + row] - (less.Length == 0 ? 0 : less[m * count + row]);
                variances[from + row] = VariancesOf(deviations);
            }
        }
    }

    /// <summary>Variances of a number that every member gives.</summary>
    /// <remarks>A mean of B blocks, drawn B at a time, scatters less than it would over other sites, by (B - 1)/B (Davison and Hinkley
    /// 1997, Bootstrap Methods, section 2.3, from memory).</remarks>
    /// <param name="ofMembers">Of all members, or of some pairs of them.</param>
    public MemberVariances VariancesOf(ReadOnlySpan<double> ofMembers)
    {
        int pairs = ofMembers.Length / 2;
        if (pairs < 2 || blocks < 2)
            return default;
        double sum = 0, squares = 0, shared = 0, first = (ofMembers[0] + ofMembers[1]) / 2;
        for (int pair = 0; pair < pairs; pair++)
        {
            double one = ofMembers[2 * pair], two = ofMembers[2 * pair + 1], mean = (one + two) / 2 - first;
            sum += mean;
            squares += mean * mean;
            shared += (one - two) * (one - two) / 4;
        }
        double variance = Math.Max(0, squares - sum * sum / pairs) / (pairs - 1);
        return new(variance * blocks / (blocks - 1), shared / pairs);
    }

    public (string FileName, byte[] Bytes) Save()
    {
        if (members.All(m => m is FormulaPredictor))
        {
            // sites that all share are written once
            SavedFormulas formulas = new(Version, blocks, _field,
                [.. members.Cast<FormulaPredictor>().Select(m => m.Formula is KrigingFormula k ? k with { Field = null } : m.Formula)]);
            return (FormulasFile, [.. JsonSerializer.SerializeToUtf8Bytes(formulas, Compact), (byte)'\n']);
        }

        using MemoryStream stream = new();
        using (BrotliStream packed = new(stream, CompressionLevel.Optimal, leaveOpen: true))
        using (BinaryWriter writer = new(packed, Encoding.UTF8))
        {
            writer.Write(Version);
            writer.Write(blocks);
            writer.Write(members.Count);
            foreach (RatePredictor member in members)
                (member as TreePredictor ?? throw new InvalidOperationException($"{member.GetType().Name} can't be saved.")).Write(writer);
        }
        return (TreesFile, stream.ToArray());
    }

    /// <exception cref="PredictionException">The file is missing, broken or of another version.</exception>
    public static MemberSet Read(string folder, int features)
    {
        string formulas = Path.Combine(folder, FormulasFile), trees = Path.Combine(folder, TreesFile);
        string path = File.Exists(formulas) ? formulas : trees;
        if (!File.Exists(path))
        {
            throw new PredictionException($"Model folder '{folder}' holds neither {FormulasFile} nor {TreesFile}; train the model again "
                + "with this version.");
        }

        try
        {
            MemberSet read = path == formulas ? OfFormulas(File.ReadAllBytes(path)) : OfTrees(path);
            return read.Count % 2 == 0 && read.Members.All(m => m.FeatureCount == features) ? read
                : throw new InvalidDataException("it is of other covariates");
        }
        catch (Exception e) when (e is not PredictionException)
        {
            throw new PredictionException($"Model file '{path}' does not hold the members of the model ({Damage.Of(e)}); train the model "
                + "again.", e);
        }
    }

    private IReadOnlyList<RatePredictor> Members => members;

    private static readonly JsonSerializerOptions Compact = new(ModelJson.Options) { WriteIndented = false };

    private static MemberSet OfFormulas(byte[] bytes)
    {
        SavedFormulas saved = JsonSerializer.Deserialize<SavedFormulas>(bytes, Compact)!;
        return saved.Version == Version
            ? new([.. saved.Members.Select(f => new FormulaPredictor(f is KrigingFormula k ? k with { Field = saved.Field } : f))],
                saved.Blocks)
            : throw new InvalidDataException($"it is of version {saved.Version}");
    }

    private static MemberSet OfTrees(string path)
    {
        using BrotliStream unpacked = new(File.OpenRead(path), CompressionMode.Decompress);
        using BinaryReader reader = new(unpacked, Encoding.UTF8);
        if (reader.ReadInt32() is var version and not Version)
            throw new InvalidDataException($"it is of version {version}");
        int blocks = reader.ReadInt32();
        return new([.. Enumerable.Range(0, reader.ReadInt32()).Select(_ => TreePredictor.Read(reader))], blocks);
    }

    private static SpatialField? FieldOf(IReadOnlyList<RatePredictor> members)
    {
        SpatialField? field = members.Count == 0 ? null : members[0].OfPlace?.Field;
        return members.All(m => ReferenceEquals(m.OfPlace?.Field, field)) ? field
            : throw new InvalidOperationException("The members of a model are of different sites.");
    }

    private sealed record SavedFormulas(int Version, int Blocks, SpatialField? Field, IReadOnlyList<Formula> Members);
}
