namespace DecayAtlas.Contributions.Campaigns;

/// <summary>The days between which a campaign wants bags buried and dug up, as far as it says them.</summary>
public sealed record ExpectedDays(DayRange? Buried, DayRange? Retrieved)
{
    /// <summary>Days that a class is late or early (common practice, no source).</summary>
    public const int Slack = 14;

    /// <summary>Of these days; none where those who dig were told them.</summary>
    public int SlackDays { get; init; } = Slack;

    /// <summary>The fewest and the most days that a bag lies in the soil by them; null where one of the two is not said.</summary>
    public (int Least, int Most)? InSoil => (Buried, Retrieved) is ({ } buried, { } retrieved)
        && retrieved.From.DayNumber - buried.To.DayNumber is > 0 and int least
            ? (least, retrieved.To.DayNumber - buried.From.DayNumber) : null;

    public bool Hold(DateOnly buriedOn, DateOnly? retrievedOn) => Holds(Buried, buriedOn)
        && (retrievedOn is not { } day || Holds(Retrieved, day));

    /// <param name="range">One of the two.</param>
    public bool Holds(DayRange? range, DateOnly day) =>
        range is null || (day >= range.From.AddDays(-SlackDays) && day <= range.To.AddDays(SlackDays));
}
