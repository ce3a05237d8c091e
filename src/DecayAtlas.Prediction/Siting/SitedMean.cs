namespace DecayAtlas.Prediction.Siting;

/// <summary>A mean that is to be surer, by the places that stand for its squares.</summary>
/// <param name="Now">How sure it is.</param>
/// <param name="OfMembers">ln of it by every member.</param>
internal sealed record SitedMean(MeanHalfWidths Now, double[] OfMembers, IReadOnlyList<ErringPlace> Places)
{
    public static SitedMean Of(RateModel model, MeanError mean, Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt)
    {
        PlaceErrors asked = new([], []);
        IReadOnlyList<GeoPoint> points = [];
        MeanHalfWidths now = mean.Result(places =>
        {
            points = places;
            (double[] local, double[] values) = model.LocalErrors(covariatesAt(places), places);
            return asked = new(local, values);
        }, new MemberMeans(model.Members, model.MemberQuantile));
        double[] halves = asked.LocalHalfWidths;
        double z = ErrorParts.NormalQuantile(model.Limits.Interval.Level);
        IReadOnlyList<double> weights = mean.Weights;
        int count = weights.Count;
        int[] known = [.. Enumerable.Range(0, count).Where(i => double.IsFinite(halves[i]))];
        double sum = known.Sum(i => weights[i]);
        return new(now,
            [.. Enumerable.Range(0, model.Members.Count).Select(m => known.Sum(i => weights[i] / sum * asked.OfMembers[m * count + i]))],
            [.. known.Select(i => new ErringPlace(points[i], halves[i] / z * (halves[i] / z), weights[i] / sum))]);
    }
}
