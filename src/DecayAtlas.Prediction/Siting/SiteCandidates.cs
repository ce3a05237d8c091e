namespace DecayAtlas.Prediction.Siting;

/// <summary>The places that a choice is made from, with covariates and what the model predicts there.</summary>
internal sealed class SiteCandidates
{
    private readonly (string Region, SiteCell Cell)[] _cells;
    private readonly PredictionBlock _predicted;

    private SiteCandidates((string Region, SiteCell Cell)[] cells, double[][] covariates, PredictionBlock predicted)
    {
        (_cells, Covariates, _predicted) = (cells, covariates, predicted);
        Places = [.. cells.Select(c => c.Cell.Place)];
    }

    public int Count => _cells.Length;

    public IReadOnlyList<GeoPoint> Places { get; }

    public double[][] Covariates { get; }

    /// <summary>Which candidate stands for a square of a region.</summary>
    public Dictionary<(string Region, (int, int) Square), int> OfSquare =>
        Enumerable.Range(0, Count).ToDictionary(i => (_cells[i].Region, _cells[i].Cell.Square));

    /// <summary>Cells that lie in two regions count once. Where the grids give another value at the very place than in the cell, a
    /// covariate may be missing: such a cell is left out.</summary>
    public static SiteCandidates Of(RateModel model, IEnumerable<(SitedRegion Region, IReadOnlyList<SiteCell> Cells)> regions,
        Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt)
    {
        (string Region, SiteCell Cell)[] all =
            [.. regions.SelectMany(r => r.Cells.Select(c => (r.Region.Name, c))).DistinctBy(c => (c.c.Column, c.c.Row))];
        double[][] values = covariatesAt([.. all.Select(c => c.Cell.Place)]);
        PredictionBlock block = Predicted(model, values, [.. all.Select(c => c.Cell.Place)]);
        int[] known = [.. Enumerable.Range(0, all.Length).Where(i => !float.IsNaN(block.Predictions[i]))];
        double[][] kept = [.. values.Select(v => known.Select(i => v[i]).ToArray())];
        return new([.. known.Select(i => all[i])], kept, Predicted(model, kept, [.. known.Select(i => all[i].Cell.Place)]));
    }

    public ProposedSite Proposed(int candidate, int rank, NeighbourSites known, double after)
    {
        (string region, SiteCell cell) = _cells[candidate];
        double longitude = Math.IEEERemainder(cell.Place.LongitudeDegrees, 360);
        GeoPoint place = new(longitude, cell.Place.LatitudeDegrees);
        return new(rank, region, place, _predicted.Predictions[candidate], _predicted.Lower[candidate], _predicted.Upper[candidate],
            _predicted.Applicable[candidate], _predicted.Dissimilarity[candidate], known.NearestMetres(place), known.IsHiddenIn(place),
            [.. Covariates.Select(c => c[candidate])], after);
    }

    private static PredictionBlock Predicted(RateModel model, double[][] covariates, GeoPoint[] places)
    {
        int count = places.Length;
        PredictionBlock block = new(covariates.Length, Math.Max(1, count));
        places.CopyTo(block.Places, 0);
        for (int c = 0; c < covariates.Length; c++)
        {
            for (int i = 0; i < count; i++)
                block.Covariates[c][i] = (float)covariates[c][i];
        }
        model.Predict(block, count);
        return block;
    }
}
