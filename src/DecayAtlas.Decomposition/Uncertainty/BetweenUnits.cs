namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>
/// What the units of a site share, so that their scatter does not show it: the mean covariance of the errors of two different units,
/// <code>
/// C = Σ over shared quantities q, over pairs i ≠ j: c_iq c_jq / (n (n - 1))
/// var(mean) = E s²/n + C
/// </code>
/// with c_iq the effect of q on unit i. The second line holds whatever lots and batches the units have, since s² already has in it what
/// they do not share: errors of a lot that only some of them have are counted once.
/// </summary>
/// <param name="Batch">C of batches; 0 where effects of opposite sign would make it negative. So of lots.</param>
/// <param name="HalfWidth95">What the error of both together stays within, 95 % of the time.</param>
/// <remarks>Plain algebra of the variance of a mean and of E s² (n independent parts, one common); no source.</remarks>
internal sealed record BetweenUnits(double Batch, double Lot, double HalfWidth95)
{
    public double Variance => Batch + Lot;

    public static BetweenUnits Of(SiteUnits units)
    {
        SortedDictionary<SharedQuantity, (double Sum, double Squares)> sums = new();
        foreach (SiteBurial[] group in units.Groups)
        {
            foreach (IGrouping<SharedQuantity, double> effect in group.SelectMany(b => b.Shared.Effects).Where(e => e.Effect != 0)
                .GroupBy(e => e.Quantity, e => e.Effect))
            {
                double mean = effect.Sum() / group.Length;
                (double sum, double squares) = sums.GetValueOrDefault(effect.Key);
                sums[effect.Key] = (sum + mean, squares + mean * mean);
            }
        }

        int n = units.Groups.Length;
        double batch = 0, lot = 0;
        List<double> ranges = new();
        foreach ((SharedQuantity quantity, (double sum, double squares)) in sums)
        {
            double covariance = (sum * sum - squares) / (n * (n - 1.0));
            if (quantity.Source == SharedSource.Batch)
                batch += covariance;
            else
                lot += covariance;
            if (quantity.IsRange && covariance > 0)
                ranges.Add(Math.Sqrt(covariance));
        }

        batch = Math.Max(0, batch);
        lot = Math.Max(0, lot);
        return new BetweenUnits(batch, lot, MixedError.Of(batch + lot, [.. ranges]).HalfWidth(0.025));
    }
}
