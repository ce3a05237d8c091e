namespace DecayAtlas.Prediction.Siting;

/// <summary>Proposes places to bury at that make the means of regions surer under the model of a map.</summary>
public static class NextSites
{
    private const int Draws = 20;

    /// <param name="covariatesAt">Covariates of the model at places, one array a covariate; not a number where there are none.</param>
    /// <param name="picturePath">Where the picture goes.</param>
    /// <param name="progress">Told what is being done, steps done, steps in all.</param>
    /// <exception cref="PredictionException">The regions hold no place that may be proposed, or the file is no map.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    public static SitePlan Of(string mapPath, RateModel model, IReadOnlyList<SitedRegion> regions, SiteRequest request,
        Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt, string picturePath, Action<string, int, int>? progress = null)
    {
        if (model.Members.Pairs < SiteGain.FewestPairs || model.Members.Blocks < 2)
        {
            throw new PredictionException($"Model {model.Card.ModelId} has {Counted.Of(model.Members.Pairs, "pair")} of members on "
                + $"{Counted.Of(model.Members.Blocks, "block")}, and places are told by {SiteGain.FewestPairs} pairs on 2 or more; train "
                + "with more members (train.members) or smaller blocks.");
        }

        using MapReader map = new(mapPath, MapQuantity.DecayRate);
        NeighbourSites known = new(request.Existing);
        AvoidedAreas avoided = new(request.Avoid, map.Lattice);
        List<(SitedRegion Region, IReadOnlyList<SiteCell> Cells)> cells = [];
        List<SitedMean> means = [];
        List<SiteTally> tallies = [];
        for (int r = 0; r < regions.Count; r++)
        {
            progress?.Invoke("Regions", r, regions.Count + 1);
            SiteSquares squares = new(map.Lattice, model.Errors, request.IsOutsideToo);
            RegionCells.ForEach(map, regions[r].Shape, squares.Add);
            (IReadOnlyList<SiteCell> found, SiteTally tally) = squares.Candidates(known, avoided, request.ApartMetres);
            if (tally.Squares == 0)
            {
                throw new PredictionException($"Region '{regions[r].Name}' holds no cell of the map with a prediction; choose one that the "
                    + "map covers.");
            }

            cells.Add((regions[r], found));
            tallies.Add(tally);
            means.Add(SitedMean.Of(model, squares.Mean, covariatesAt));
        }

        SiteTally all = Sum(tallies);
        SiteCandidates candidates = SiteCandidates.Of(model, cells, covariatesAt);
        if (candidates.Count == 0)
            throw new PredictionException(NoneLeft(all, request));
        progress?.Invoke("Choice", regions.Count, regions.Count + 1);
        SiteEnsemble ensemble =
            SiteEnsemble.Of(model, candidates.Places, candidates.Covariates, [.. means.Select(m => m.OfMembers)], request.Noise);
        if (request.IsKriged)
            ensemble = ensemble with { Around = AroundOf(model, ensemble, means, request, covariatesAt) };
        double z = ErrorParts.NormalQuantile(model.Limits.Interval.Level);
        SiteParts parts = new(Root(means.Select(m => m.Now.Model)), Root(means.Select(m => m.Now.Shared)),
            ensemble.Around is { } around ? z * Math.Sqrt(around.OfMeans.Average()) : Root(means.Select(m => m.Now.Local)),
            request.IsKriged);
        SiteCovariance covariance = SiteCovariance.OfAll(ensemble);
        int[] chosen = GreedyChoice.Of(covariance, request.Count, request.ApartMetres);
        SiteStep[] steps = StepsOf(ensemble, parts, request, chosen.Length);
        SitePlan plan = new([.. regions.Select(r => r.Name)], model.Card.ModelId, model.Card.ReleaseId, model.Limits.Interval.Level, parts,
            steps,
            [.. chosen.Select((c, i) => candidates.Proposed(c, i + 1, known, steps[Math.Min(i + 1, steps.Length - 1)].Chosen))],
            all with { Asked = candidates.Count }, model.Card.Covariates);
        SitePicture.Draw(map, candidates, covariance.GainsOfOne(), plan, regions, request, avoided, picturePath);
        progress?.Invoke("Choice", regions.Count + 1, regions.Count + 1);
        return plan;
    }

    private static Surroundings AroundOf(RateModel model, SiteEnsemble ensemble, IReadOnlyList<SitedMean> means, SiteRequest request,
        Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt)
    {
        // where a place is not told, nobody can krig
        GeoPoint[] known = [.. request.Existing.Where(s => !s.IsHidden).Select(s => s.Place)];
        double z = ErrorParts.NormalQuantile(model.Limits.Interval.Level);
        double[] halves = known.Length == 0 ? [] : model.LocalErrors(covariatesAt(known), known).LocalHalfWidths;
        return new(model.Errors,
            [.. ensemble.Places.Select((p, i) => new ErringPlace(p, ensemble.LocalVariances[i]))],
            [.. means.Select(m => m.Places)], [.. means.Select(m => m.Now.Local / z * (m.Now.Local / z))],
            [.. known.Select((p, i) => new ErringPlace(p, halves[i] / z * (halves[i] / z))).Where(p => double.IsFinite(p.Variance))],
            model.Limits.Parts.OfRows);
    }

    private static SiteStep[] StepsOf(SiteEnsemble ensemble, SiteParts parts, SiteRequest request, int count)
    {
        int[] spread = OtherChoices.Spread(ensemble.Places, count);
        double[][] drawn = new double[Draws][];
        double[] chosen = [], even = [];
        Parallel.Invoke(
            () => chosen = SiteGain.SharesLeft(ensemble, s => GreedyChoice.Of(s, count, request.ApartMetres)),
            () => even = SiteGain.SharesLeft(ensemble, _ => spread),
            () => Parallel.For(0, Draws, d =>
                drawn[d] = SiteGain.SharesLeft(ensemble, _ => OtherChoices.AtRandom(ensemble.Places.Count, count, d))));
        int steps = Math.Min(Math.Min(chosen.Length, even.Length), drawn.Min(d => d.Length));
        return [.. Enumerable.Range(0, steps).Select(n =>
        {
            double[] halves = Quantiles.Sort(drawn.Select(d => parts.With(d[n])));
            return new SiteStep(n, parts.With(chosen[n]), parts.With(even[n]), halves.Average(), Quantiles.Of(halves, 0.1),
                Quantiles.Of(halves, 0.9));
        })];
    }

    private static string NoneLeft(SiteTally tally, SiteRequest request)
    {
        string avoided = string.Join(", ", tally.Avoided.Take(3).Select(a => $"'{a.Key}' {a.Value}"));
        return $"Of {Counted.Of(tally.Squares, "square")} of the map in the region none holds a place that may be proposed: "
            + $"{tally.OutsideApplicability} outside the area of applicability, {tally.NearSites} nearer than "
            + Invariant($"{request.ApartMetres / 1000:0.###} km to a site, {tally.Avoided.Values.Sum()} in what is to be avoided")
            + $"{(avoided.Length > 0 ? $" ({avoided})" : "")}; choose another region, avoid less, or take places outside the area of "
            + "applicability too.";
    }

    private static double Root(IEnumerable<double> halves) => Math.Sqrt(halves.Average(h => h * h));

    private static SiteTally Sum(IReadOnlyList<SiteTally> tallies) => new(
        tallies.Sum(t => t.Squares), tallies.Sum(t => t.Asked), tallies.Sum(t => t.OutsideApplicability), tallies.Sum(t => t.NearSites),
        new SortedDictionary<string, int>(tallies.SelectMany(t => t.Avoided).GroupBy(a => a.Key, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Sum(a => a.Value)), StringComparer.Ordinal));
}
