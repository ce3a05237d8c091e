namespace DecayAtlas.Questions.Answers;

/// <summary>Campaigns as fixed effects, centred, so that means are over the campaigns as they come: so few seasons tell too little of how
/// seasons scatter, and groups that were dug up in other seasons would differ by them.</summary>
internal sealed class CampaignEffects
{
    /// <summary>From so many on their scatter is estimated in place of each (common practice, no source).</summary>
    private const int Many = 10;

    private readonly string[] _campaigns;
    private readonly double[] _shares;

    private CampaignEffects(string[] campaigns, double[] shares) => (_campaigns, _shares) = (campaigns, shares);

    public static CampaignEffects None { get; } = new([], []);

    /// <summary>Columns of X.</summary>
    public int Count => _campaigns.Length;

    /// <summary>All campaigns but the first; none where there is one, or many.</summary>
    public static CampaignEffects Of(IReadOnlyList<ReleasedPlot> rows)
    {
        double burials = rows.Sum(r => r.Burials);
        (string Campaign, double Share)[] all = [.. rows.GroupBy(r => r.Campaign, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => (g.Key, g.Sum(r => r.Burials) / burials))];
        return all.Length is < 2 or >= Many ? None : new([.. all.Skip(1).Select(c => c.Campaign)], [.. all.Skip(1).Select(c => c.Share)]);
    }

    public IEnumerable<double> RowOf(ReleasedPlot row) => _campaigns.Select((c, i) => (c == row.Campaign ? 1.0 : 0) - _shares[i]);
}
