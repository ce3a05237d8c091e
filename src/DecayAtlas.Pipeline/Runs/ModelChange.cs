namespace DecayAtlas.Pipeline.Runs;

/// <summary>What a model became under new contributions, where it is more than noise: a person looks before anybody uses it.</summary>
/// <param name="Quantity">The letter of what is predicted: k or S.</param>
/// <param name="Before">The id of the model that was current before.</param>
/// <param name="What">What changed, a clause each.</param>
/// <param name="Contributions">What is new, changed or gone since the release that the model before was trained on.</param>
public sealed record ModelChange(string Quantity, string Before, IReadOnlyList<string> What, IReadOnlyList<string> Contributions)
{
    /// <summary>Cells beyond their earlier interval that nobody need look at: it holds what is true of 19 in 20 (common practice, no
    /// source).</summary>
    private const double MostMoved = 0.05;

    private const int MostNamed = 10;

    public override string ToString() => $"The model of {Quantity} changed by more than noise: {string.Join("; ", What)}. "
        + (Contributions.Count == 0 ? "No contribution came or went since the model before, so look at settings and grids."
            : $"New, changed or gone since the model before: {string.Join(", ", Contributions.Take(MostNamed))}"
                + $"{(Contributions.Count > MostNamed ? ", and more" : "")}. Look at them before you pass the model on.");

    internal static IReadOnlyList<ModelChange> Of(AtlasFolder atlas, FlowResult made) =>
    [
        .. new[] { Between(atlas, made.Model, made.Map), Between(atlas, made.Model?.Stabilisation, made.Map?.Stabilisation) }
            .OfType<ModelChange>(),
    ];

    private static ModelChange? Between(AtlasFolder atlas, TrainStage.Output? model, MapStage.Output? map)
    {
        if (model is not { Before: { } before, Card: { } now })
            return null;
        string[] what = [.. Differences(before, now), .. Moved(map)];
        return what.Length == 0 ? null
            : new ModelChange(MapQuantity.Of(now.Target).Symbol, before.ModelId, what, Came(atlas, before.ReleaseId, now.ReleaseId));
    }

    /// <summary>How two cards differ in the kind of model and in its error on unseen blocks, the latter where it lies outside the 90 %
    /// interval that the folds of the earlier give it.</summary>
    internal static IEnumerable<string> Differences(ModelCard before, ModelCard now)
    {
        (CandidateScore then, CandidateScore today) = (before.WinnerScore(), now.WinnerScore());
        if (then.Name != today.Name)
            yield return $"{today.Title} in place of {then.Title}";
        (double error, double earlier, double noise) =
            (today.Blocked.Pooled.Rmse, then.Blocked.Pooled.Rmse, then.Blocked.RmseHalfWidth90);
        if (Math.Abs(error - earlier) > noise)
        {
            yield return Invariant($"its error on unseen blocks is {error:0.000} in place of {earlier:0.000} ± ")
                + Invariant($"{noise:0.000}, R2 {today.Blocked.Pooled.R2:0.00} in place of {then.Blocked.Pooled.R2:0.00}");
        }
    }

    private static IEnumerable<string> Moved(MapStage.Output? map) => map?.Moved is { } moved && moved.ShareOutside > MostMoved
        ? [Invariant($"{100 * moved.ShareOutside:0} % of the cells of its map lie outside their earlier interval")] : [];

    private static IReadOnlyList<string> Came(AtlasFolder atlas, string before, string now)
    {
        try
        {
            Dictionary<string, int> then = RevisionsIn(before), today = RevisionsIn(now);
            return
            [
                .. today.Keys.Union(then.Keys, StringComparer.Ordinal).Order(StringComparer.Ordinal)
                    .Where(id => then.GetValueOrDefault(id) != today.GetValueOrDefault(id))
                    .Select(id => !then.ContainsKey(id) ? $"{id} (new)" : today.TryGetValue(id, out int revision)
                        ? Invariant($"{id} (revision {revision})") : $"{id} (gone)"),
            ];
        }
        catch (AtlasException)
        {
            return [];   // the release of the model before was pruned
        }

        Dictionary<string, int> RevisionsIn(string release) => new ReleaseReader(atlas, release).Rows(AtlasTables.Contributions)
            .ToDictionary(c => c.ContributionId, c => c.Revision, StringComparer.Ordinal);
    }
}
