namespace DecayAtlas.Prediction.Regions;

/// <summary>Half-widths of a mean on the scale of ln k.</summary>
internal readonly record struct MemberHalfWidths(double Model, double Shared);

/// <summary>The mean of a region by every member of a model, and how far these lie apart.</summary>
/// <param name="quantile">By how much more than a standard deviation the interval reaches.</param>
internal sealed class MemberMeans(MemberSet members, double quantile)
{
    /// <param name="values">ln k of every member at each place, member by member.</param>
    /// <param name="count">Places.</param>
    /// <param name="weights">Shares of k of the model that count, and of which places.</param>
    public MemberHalfWidths HalfWidths(double[] values, int count, IReadOnlyList<(int Place, double Share)> weights)
    {
        double[] means = new double[members.Count];
        for (int m = 0; m < means.Length; m++)
        {
            // the mean of ln k by shares of k is what the mean of k itself moves by, in parts of it, as long as k moves little
            foreach ((int place, double share) in weights)
                means[m] += share * values[m * count + place];
        }
        MemberVariances variances = members.VariancesOf(means);
        return new(quantile * Math.Sqrt(variances.OfSites), quantile * Math.Sqrt(variances.OfShared));
    }
}
