using System.Text.Json;

namespace DecayAtlas.Prediction.Trained;

/// <summary>A trained model of ln k or S with its card. Saved as a folder: <c>model.zip</c> and <c>model.onnx</c> (ML.NET) or
/// <c>model.json</c> (a formula), <c>limits.json</c>, its members, <c>card.json</c>, <c>card.md</c> with its figures,
/// <c>held-out.csv</c>; the same training inputs give the same bytes. Safe to use from many threads.</summary>
public sealed class RateModel : IDisposable
{
    public const string LimitsFile = "limits.json", CardJsonFile = "card.json", CardMarkdownFile = "card.md", HeldOutFile = "held-out.csv";

    private readonly SavedPredictor _saved;
    private readonly KindsOfPlaces _kinds;

    internal RateModel(ModelCard card, RatePredictor predictor, SavedPredictor saved, ModelLimits limits, MemberSet members,
        IReadOnlyList<HeldOutRow> heldOut)
    {
        (Card, Predictor, Limits, Members, HeldOut) = (card, predictor, limits, members, heldOut);
        _saved = saved;
        Coding = card.Coding();
        _kinds = new(card.Covariates, limits.Interval);
    }

    public ModelCard Card { get; }

    public ErrorCorrelation Errors => Limits.Errors;

    /// <summary>Training rows as predicted while their block was held out; empty for a model that was read from its folder.</summary>
    public IReadOnlyList<HeldOutRow> HeldOut { get; }

    internal byte[] Archive => _saved.Bytes;

    internal RatePredictor Predictor { get; }

    internal ModelLimits Limits { get; }

    internal MemberSet Members { get; }

    internal FeatureCoding Coding { get; }

    /// <summary>By how much more than its standard deviation the interval of what members tell reaches.</summary>
    internal double MemberQuantile => Members.QuantileOf(Limits.Interval.Level);

    /// <summary>The same trained without noted records; missing where none was.</summary>
    internal (SavedPredictor Saved, RatePredictor Predictor)? WithoutNoted { get; init; }

    /// <summary>Predicts the first <paramref name="count"/> rows of a block, with interval, dissimilarity and applicability.</summary>
    /// <remarks>On the calling thread. Rows do not depend on each other, so neither the size of blocks nor the number of threads changes a
    /// number.</remarks>
    public void Predict(PredictionBlock block, int count)
    {
        int width = Coding.Count;
        if (block.Covariates.Length != Coding.Covariates || count < 0 || count > block.Capacity)
        {
            throw new ArgumentException($"Expected a block of {Coding.Covariates} covariates and a count of at most its capacity, found "
                + $"{block.Covariates.Length} and {count} of {block.Capacity}.", nameof(block));
        }

        int complete = block.GatherComplete(count, Coding);
        Span<float> features = block.Features.AsSpan(0, complete * width);
        Span<double> values = block.Values.AsSpan(0, complete);
        ReadOnlySpan<GeoPoint> places = block.CompletePlaces.AsSpan(0, complete);
        Predictor.Predict(features, values, places);
        Span<MemberVariances> spread = block.Spread.AsSpan(0, complete);
        Members.Variances(features, spread, places);
        Applicability applicability = Limits.Applicability;
        ErrorParts parts = Limits.Parts;
        double level = Limits.Interval.Level, z = ErrorParts.NormalQuantile(level), t = MemberQuantile;
        for (int i = 0; i < complete; i++)
        {
            Span<float> row = features.Slice(i * width, width);
            int at = block.RowOf[i];
            double dissimilarity = applicability.DissimilarityOf(row);
            KindQuantile? own = _kinds.Of(block.Kinds[at], _kinds.Covariate is { } c ? block.Covariates[c][at] : double.NaN);
            double local = parts.LocalHalfWidth(Limits.Interval.HalfWidthOf(own, dissimilarity), level);
            double place = Math.Sqrt(local * local + t * t * spread[i].Sum);
            double measured = Math.Sqrt(place * place + z * z * (parts.OfRows + parts.OfLots));
            float value = (float)Card.ToTargetUnit(values[i]);
            (float lower, float upper) = Ends(values[i], place);
            (float measuredLower, float measuredUpper) = Ends(values[i], measured);
            if (!IsStated(measuredLower) || !IsStated(measuredUpper))
            {
                block.Clear(at);
                continue;
            }
            (block.Predictions[at], block.Lower[at], block.Upper[at]) = (value, lower, upper);
            (block.MeasuredLower[at], block.MeasuredUpper[at]) = (measuredLower, measuredUpper);
            block.Dissimilarity[at] = (float)dissimilarity;
            block.IntervalOf[at] = own?.Kind;
            block.Applicable[at] = applicability.IsApplicable(dissimilarity);
            if (block.LocalDensity.Length > 0)
                block.LocalDensity[at] = applicability.DensityAt(row);
        }
    }

    /// <summary>What the model is off by at places: half-widths of what the places themselves are off by, and every member's
    /// value.</summary>
    /// <param name="covariates">One array a covariate; not finite = missing.</param>
    internal (double[] LocalHalfWidths, double[] OfMembers) LocalErrors(double[][] covariates, IReadOnlyList<GeoPoint> places)
    {
        int count = places.Count;
        int width = Coding.Count;
        float[] features = new float[count * width];
        double[] halves = new double[count];
        for (int row = 0; row < count; row++)
        {
            Span<float> here = features.AsSpan(row * width, width);
            for (int c = 0; c < covariates.Length; c++)
                Coding.Put(c, (float)covariates[c][row], here);
            KindQuantile? own = _kinds.Of(null, _kinds.Covariate is { } kind ? covariates[kind][row] : double.NaN);
            halves[row] = here.ContainsAnyExceptInRange(float.MinValue, float.MaxValue) ? double.NaN
                : Limits.Parts.LocalHalfWidth(
                    Limits.Interval.HalfWidthOf(own, Limits.Applicability.DissimilarityOf(here)), Limits.Interval.Level);
        }
        return (halves, Members.Predict(features, count, [.. places]));
    }

    private (float Lower, float Upper) Ends(double value, double half) =>
        ((float)Card.ToTargetUnit(value - half), (float)Card.ToTargetUnit(value + half));

    /// <summary>Covariates far off all training lead curves to a k that single precision holds only as 0 or infinity; neither is a
    /// prediction.</summary>
    private bool IsStated(float value) => float.IsFinite(value) && (value > 0 || Card.Target != PredictionTarget.DecayRate);

    /// <summary>Writes the files of a model that was just trained; files of the same name are replaced.</summary>
    public void Save(string folder)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, _saved.FileName), _saved.Bytes);
        (string members, byte[] bytes) = Members.Save();
        File.WriteAllBytes(Path.Combine(folder, members), bytes);
        if (WithoutNoted is { Saved: var withoutNoted })
            File.WriteAllBytes(Path.Combine(folder, withoutNoted.FileName), withoutNoted.Bytes);
        if (_saved.Onnx is { } onnx)
            File.WriteAllBytes(Path.Combine(folder, SavedPredictor.OnnxFile), onnx);
        File.WriteAllText(Path.Combine(folder, HeldOutFile), HeldOutTable.Csv(HeldOut, Card.Covariates));
        File.WriteAllText(Path.Combine(folder, LimitsFile), JsonSerializer.Serialize(Limits, ModelJson.Options) + "\n");
        File.WriteAllText(Path.Combine(folder, CardJsonFile), JsonSerializer.Serialize(Card, ModelJson.Options) + "\n");
        foreach ((string file, Figure figure) in CardFigures.Of(Card, HeldOut))
            File.WriteAllText(Path.Combine(folder, file), figure.Svg());
        File.WriteAllText(Path.Combine(folder, CardMarkdownFile), ModelCardMarkdown.Of(Card));
    }

    /// <summary>Whether predictions rest on this file of a model's folder; the others are for people and other programs.</summary>
    public static bool RestsOn(string file) => file is CardJsonFile or LimitsFile or SavedPredictor.MlFile or SavedPredictor.FormulaFile
        || MemberSet.IsFile(file);

    /// <summary>Reads what <see cref="Save"/> wrote.</summary>
    /// <exception cref="PredictionException">A file is missing, broken, or from another version.</exception>
    public static RateModel Load(string folder)
    {
        string cardPath = Path.Combine(folder, CardJsonFile), limitsPath = Path.Combine(folder, LimitsFile);
        foreach (string path in new[] { cardPath, limitsPath })
        {
            if (!File.Exists(path))
                throw new PredictionException($"Model file '{path}' does not exist; give the folder that training wrote.");
        }

        ModelCard card = ReadCard(cardPath);
        (SavedPredictor saved, RatePredictor predictor) = SavedPredictor.Read(folder);
        int features = card.Coding().Count;
        if (predictor.FeatureCount != features)
        {
            throw new PredictionException($"Model file '{Path.Combine(folder, saved.FileName)}' takes {predictor.FeatureCount} "
                + $"features but its card lists {features}; the folder mixes two models, train again.");
        }

        return new(card, predictor, saved, ReadLimits(limitsPath, features), MemberSet.Read(folder, features), [])
        {
            WithoutNoted = card.Findings.WithoutNoted is { RmseWithout: not null }
                ? SavedPredictor.Read(folder, SavedPredictor.WithoutNotedPrefix) : null,
        };
    }

    /// <summary>Nothing is held open; a <c>using</c> block keeps its meaning when a later version maps its file.</summary>
    public void Dispose()
    {
    }

    private static ModelLimits ReadLimits(string path, int features)
    {
        try
        {
            ModelLimits limits = JsonSerializer.Deserialize<ModelLimits>(File.ReadAllBytes(path), ModelJson.Options)!;
            ApplicabilityState a = limits.State;
            if (a.Means.Length != features || a.Scales.Length != features || a.Rows.Length == 0 || a.Rows.Length % features != 0)
            {
                throw new PredictionException($"Model file '{path}' is not of {features} features as its card lists; the folder "
                    + "mixes two models, train again.");
            }

            // a tree that can't be made of what was read is told now, and not by the first prediction
            _ = limits.Applicability;
            return limits;
        }
        catch (JsonException e)
        {
            throw new PredictionException($"Model file '{path}' does not hold the limits of a model ({Damage.Of(e)}); train the model "
                + "again.", e);
        }
    }

    /// <summary>The card alone of the model in a folder.</summary>
    /// <exception cref="PredictionException">There is none, or none of this version.</exception>
    public static ModelCard CardOf(string folder) => Path.Combine(folder, CardJsonFile) is var path && File.Exists(path) ? ReadCard(path)
        : throw new PredictionException($"Model file '{path}' does not exist; give the folder that training wrote.");

    private static ModelCard ReadCard(string path)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            if (!document.RootElement.TryGetProperty("card_version", out JsonElement version) || !version.TryGetInt32(out int found)
                || found != ModelCard.CurrentVersion)
            {
                throw new PredictionException($"Model card '{path}' is not of card_version {ModelCard.CurrentVersion}; train the model "
                    + "again with this version.");
            }

            if (HasGap(document.RootElement))
                throw new JsonException("an entry of a list is null");
            return document.Deserialize<ModelCard>(ModelJson.Options)!;
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            throw new PredictionException($"Model card '{path}' is not a readable card ({Damage.Of(e)}); train the model again.", e);
        }
    }

    // which reading takes for an entry, so that whoever looks at it falls
    private static bool HasGap(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Array => element.EnumerateArray().Any(entry => entry.ValueKind == JsonValueKind.Null || HasGap(entry)),
        JsonValueKind.Object => element.EnumerateObject().Any(property => HasGap(property.Value)),
        _ => false,
    };
}
