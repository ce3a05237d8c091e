namespace DecayAtlas.Pipeline.Contributors;

/// <summary>What one layer of a grid holds at a place.</summary>
internal sealed record PlaceSample(SnapPlace Place, LayerSample Layer);

/// <summary>
/// Samples by layer and place, kept a contributor. A place is sampled once for each digest of a layer, so that a changed grid is
/// sampled anew and the others are not touched.
/// </summary>
internal sealed class GridSamples(AtlasFolder atlas, IReadOnlyList<GridInput> grids)
{
    private readonly Cache<Dictionary<string, PlaceSample[]>> _cache = new(atlas, "snapped");
    private readonly Dictionary<(string Layer, SnapPlace Place), LayerSample> _samples = [];

    /// <summary>The sample of a place that was covered before.</summary>
    public LayerSample Of(GridInput grid, LayerSource layer, SnapPlace place) => _samples[(grid.DigestOf(layer), Relevant(layer, place))];

    // only a rule with a circle asks how well a place is known: for the others a new uncertainty needs no new sample
    private static SnapPlace Relevant(LayerSource layer, SnapPlace place) =>
        layer.Rule is SamplingRule.Disc or SamplingRule.Mode
            ? place with { UncertaintyMetres = Math.Min(place.UncertaintyMetres ?? 0, GridSampler.MaxRadiusMetres) }
            : place with { UncertaintyMetres = null };

    /// <summary>
    /// Sees to it that every place of contributors has a sample of every layer that it needs; of a dated series only the steps that
    /// bags felt. Not while another thread asks for samples.
    /// </summary>
    /// <returns>How many values were sampled now.</returns>
    public int Cover(IReadOnlyList<PlannedContributor> contributors, Action<string, int, int>? progress = null)
    {
        Dictionary<string, PlaceSample[]>?[] known = new Dictionary<string, PlaceSample[]>?[contributors.Count];
        Parallel.For(0, known.Length, i => known[i] = _cache.Load(KeyOf(contributors[i])));
        foreach ((string layer, PlaceSample[] samples) in known.OfType<Dictionary<string, PlaceSample[]>>().SelectMany(k => k))
        {
            foreach (PlaceSample sample in samples)
                _samples.TryAdd((layer, sample.Place), sample.Layer);
        }

        int sampled = 0, done = 0;
        SamplingNeeds all = SamplingNeeds.Of(contributors.Select(c => c.Needs));
        foreach (GridInput grid in grids)
        {
            progress?.Invoke(grid.Entry.Name, done++, grids.Count);
            foreach ((LayerSource layer, IEnumerable<SnapPlace> places) in NeededOf(grid, all))
                sampled += Sample(layer, grid.DigestOf(layer), [.. places.Select(p => Relevant(layer, p)).Distinct()]);
        }

        Parallel.For(0, known.Length, i =>
        {
            Dictionary<string, PlaceSample[]> needed = grids
                .SelectMany(g => NeededOf(g, contributors[i].Needs)
                    .SelectMany(n => n.Places.Select(p => (Layer: g.DigestOf(n.Layer), Place: Relevant(n.Layer, p)))))
                .Distinct().GroupBy(n => n.Layer, n => new PlaceSample(n.Place, _samples[n]), StringComparer.Ordinal)
                .ToDictionary(g => g.Key, g => g.ToArray(), StringComparer.Ordinal);
            if (needed.Count > 0 && !(known[i] is { } before && before.Count == needed.Count
                && needed.All(n => before.TryGetValue(n.Key, out PlaceSample[]? same) && same.SequenceEqual(n.Value))))
            {
                _cache.Save(KeyOf(contributors[i]), needed);
            }
        });
        return sampled;
    }

    public void KeepOnly(IEnumerable<string> contributorIds) => _cache.KeepOnly(contributorIds.Select(KeyOf));

    private int Sample(LayerSource layer, string digest, SnapPlace[] places)
    {
        SnapPlace[] fresh = [.. places.Where(p => !_samples.ContainsKey((digest, p)))];
        if (fresh.Length == 0)
            return 0;
        IReadOnlyList<LayerSample> samples = layer.Sample([.. fresh.Select(p => p.Point)], [.. fresh.Select(p => p.UncertaintyMetres)]);
        for (int i = 0; i < fresh.Length; i++)
            _samples[(digest, fresh[i])] = samples[i];
        return fresh.Length;
    }

    private static IEnumerable<(LayerSource Layer, IEnumerable<SnapPlace> Places)> NeededOf(GridInput grid, SamplingNeeds needs) =>
        grid.Entry.Made switch
        {
            { Declared.Count: 0 } => [],   // computed from others, which are covered themselves
            DatedSeries series => needs.Exposures.SelectMany(e => series.LayersOver(e.Days).Select(layer => (Layer: layer, e.Place)))
                .GroupBy(x => x.Layer, x => x.Place).Select(g => (g.Key, g.AsEnumerable())),
            var made => made.Layers.Select(layer => (layer, (IEnumerable<SnapPlace>)needs.Places)),
        };

    private static string KeyOf(PlannedContributor contributor) => KeyOf(contributor.ContributorId);

    private static string KeyOf(string contributorId) => InputDigest.Of([contributorId]);
}
