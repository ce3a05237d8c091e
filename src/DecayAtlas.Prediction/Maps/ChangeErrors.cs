namespace DecayAtlas.Prediction.Maps;

/// <summary>How sure the change between two predictions at one place is.</summary>
/// <remarks>
/// What a place is off by beyond its covariates stands on both sides and cancels. Of two sets of covariates under one model every member
/// gives a change of its own, so that lots, batches and the choice of sites count by what they do to the change: nothing where the
/// covariates are the same. Two models share no members, and what theirs tell is added as unrelated.
/// </remarks>
internal static class ChangeErrors
{
    /// <summary>Half-widths of the change on the scale of learning (ln of the ratio of k, difference of S), of the level of the models'
    /// intervals.</summary>
    /// <param name="before">Its features row by row.</param>
    /// <param name="places">Of the rows of both.</param>
    public static double[] HalfWidths(RateModel first, float[] before, RateModel second, float[] after, GeoPoint[] places)
    {
        int count = places.Length;
        MemberVariances[] ofFirst = new MemberVariances[count];
        double quantile = Math.Max(first.MemberQuantile, second.MemberQuantile);
        if (first.Card.ModelId == second.Card.ModelId)
        {
            first.Members.Variances(before, after, ofFirst);
            return [.. ofFirst.Select(v => quantile * Math.Sqrt(v.Sum))];
        }

        MemberVariances[] ofSecond = new MemberVariances[count];
        first.Members.Variances(before, ofFirst, places);
        second.Members.Variances(after, ofSecond, places);
        return [.. ofFirst.Zip(ofSecond, (a, b) => quantile * Math.Sqrt(a.Sum + b.Sum))];
    }
}
