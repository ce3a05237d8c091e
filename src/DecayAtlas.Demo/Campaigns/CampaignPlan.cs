namespace DecayAtlas.Demo.Campaigns;

/// <summary>One season of burials. The islands lie in the south, so that autumn is March to May.</summary>
internal sealed record CampaignPlan(string Id, DateOnly FirstBurial, DateOnly Created)
{
    public static readonly IReadOnlyList<CampaignPlan> All =
    [
        new("2023-autumn", new DateOnly(2023, 3, 6), new DateOnly(2023, 10, 2)),
        new("2024-autumn", new DateOnly(2024, 3, 4), new DateOnly(2024, 9, 30)),
        new("2024-spring", new DateOnly(2024, 9, 9), new DateOnly(2025, 4, 7)),
    ];

    /// <summary>Short mark inside bag ids, for example 24A.</summary>
    public string Mark => $"{Id[2..4]}{(Id.EndsWith("autumn", StringComparison.Ordinal) ? 'A' : 'S')}";
}
