namespace DecayAtlas.Contributions.Campaigns;

/// <summary>What a curator says once for all who dig: lots, protocol, days, words. Made into a kit, and spares senders the questions that
/// it answers.</summary>
/// <param name="Id">The campaign id of contributions.</param>
/// <param name="Protocol">The protocol id of contributions.</param>
public sealed record Campaign(string Id, string Protocol)
{
    /// <summary>For people; the id where none is given.</summary>
    public LocalText? Title { get; init; }

    /// <summary>The licence under which contributions are sent, as <c>CC-BY-4.0</c>.</summary>
    public string? Licence { get; init; }

    /// <summary>BCP 47 code of the language of the kit, as <c>de</c>.</summary>
    public string Language { get; init; } = "en";

    /// <summary>Where and how a filled sheet is handed in, in the curator's words.</summary>
    public LocalText? HandIn { get; init; }

    /// <summary>Cautions of the curator's own, each a sentence.</summary>
    public IReadOnlyList<LocalText> Cautions { get; init; } = [];

    /// <summary>The days between which bags are to be buried.</summary>
    public DayRange? Bury { get; init; }

    /// <summary>The days between which they are to be dug up.</summary>
    public DayRange? DigUp { get; init; }

    /// <summary>The production lots, each by the names of fields of the table of lots; <c>lot_id</c> and <c>role</c> always.</summary>
    public IReadOnlyList<IReadOnlyDictionary<string, string>> Lots { get; init; } = [];

    /// <summary>What the protocol says of every bag, by the names of fields of the table of bags: <c>mass_basis</c>,
    /// <c>drying_initial</c>, <c>drying</c>, <c>drying_temperature_c</c>, <c>depth_cm</c>, <c>unused_material</c>,
    /// <c>balance_resolution_g</c>. What a sheet says of its bags goes before.</summary>
    public IReadOnlyDictionary<string, string> Bags { get; init; } = new Dictionary<string, string>();

    /// <summary>The word of each is its plain text; kits show that of their language.</summary>
    public IReadOnlyList<LocalText> Treatments { get; init; } = [];

    /// <summary>Words that stand in sheets, each with the word of the schema or of the vocabularies that it means.</summary>
    public IReadOnlyDictionary<string, string> Words { get; init; } = new Dictionary<string, string>();

    public IReadOnlyList<CampaignGroup> Groups { get; init; } = [];

    /// <summary>Burials that a group gets bags for, where it does not say otherwise.</summary>
    public int? BurialsPerGroup { get; init; }

    public SchoolExperiment? Experiment { get; init; }

    /// <summary>The lot of a role that a group's bags come from; null where there are several and the group names none.</summary>
    public IReadOnlyDictionary<string, string>? LotOf(CampaignGroup group, string role) =>
        Lots.Where(lot => lot["role"] == role && (group.Lots.Count == 0 || group.Lots.Contains(lot["lot_id"]))).Take(2).ToArray()
            is [var only] ? only : null;
}

public sealed record DayRange(DateOnly From, DateOnly To);

/// <summary>Two places that a class compares.</summary>
/// <param name="Warm">In the curator's words.</param>
/// <param name="Cold">In the curator's words.</param>
/// <param name="DegreesApart">How much warmer the soil of the warm place is, degrees Celsius.</param>
/// <param name="ScatterOfLnK">Standard deviation of ln k between burials of one place, where an earlier campaign showed it.</param>
public sealed record SchoolExperiment(LocalText Warm, LocalText Cold, double? DegreesApart, double? ScatterOfLnK);

/// <summary>Who takes part.</summary>
/// <param name="Id">The contributor id of its contributions.</param>
public sealed record CampaignGroup(string Id)
{
    public string? Title { get; init; }

    /// <summary>ISO 3166-1 alpha-2 code of the country it digs in, beside which coordinates without a sign can be judged.</summary>
    public string? CountryCode { get; init; }

    /// <summary>BCP 47 code, where it is not that of the campaign.</summary>
    public string? Language { get; init; }

    /// <summary>Where it is not that of the campaign.</summary>
    public LocalText? HandIn { get; init; }

    /// <summary>Beside those of the campaign.</summary>
    public IReadOnlyList<LocalText> Cautions { get; init; } = [];

    public int? Burials { get; init; }

    /// <summary>The number of its first burial.</summary>
    public int FirstBurial { get; init; } = 1;

    /// <summary>Ids of the lots that it was sent bags of; empty where it may be any of the campaign.</summary>
    public IReadOnlyList<string> Lots { get; init; } = [];
}
