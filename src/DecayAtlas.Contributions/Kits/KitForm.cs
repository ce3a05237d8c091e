namespace DecayAtlas.Contributions.Kits;

/// <summary>A column of a kit's workbook, or a line of its sheet about the group.</summary>
/// <param name="Key">Its heading is the text <c>kit.column.KEY</c>; stable.</param>
/// <param name="Field">Of the table of sites or of bags, or of the sheet <c>package</c>.</param>
/// <param name="Role">The litter that it is of; null for both bags of a hole.</param>
public sealed record KitColumn(string Key, string Field, string? Role = null);

/// <summary>The workbook of a kit, version 1: sheets for people in their language, and one for the program that says which is which and
/// holds what the curator said once. Its rows are a kind of line, and up to four values.</summary>
public static class KitForm
{
    /// <summary>The sheet for the program.</summary>
    public const string Sheet = "decayatlas-kit";

    public const string Version = "1";

    /// <summary>Kinds of lines in <see cref="Sheet"/>: its version; the language of its sheets; the first and last day of burying and of
    /// digging up, which older kits lack; a sheet, by key and name; a column, by sheet, key and heading; the first cell of a row that is an
    /// example, by sheet; an entry of the package; a field of a lot; a field of every site or bag; a word of a field, as the sheet offers
    /// it and as the schema has it.</summary>
    public const string OfVersion = "kit", OfLanguage = "language", OfDays = "days", OfSheet = "sheet", OfColumn = "column",
        OfExample = "example", OfPackage = "package", OfLot = "lot", OfSites = "sites", OfBags = "bags", OfWord = "word";

    /// <summary>Of <see cref="OfDays"/>.</summary>
    public const string Bury = "bury", DigUp = "dig_up";

    /// <summary>Keys of the sheets for people.</summary>
    public const string Places = "places", Holes = "holes", About = "about";

    /// <summary>A field of <see cref="OfWord"/> that stands for all.</summary>
    public const string AnyField = "*";

    /// <summary>A row a place.</summary>
    public static IReadOnlyList<KitColumn> PlaceColumns { get; } =
    [
        new("place-name", "site_id"), new("latitude", "decimal_latitude"), new("longitude", "decimal_longitude"),
        new("exactness", "coordinate_uncertainty_m"), new("hide", "coordinates_sensitive"), new("ecosystem", "ecosystem"),
        new("land-use", "land_use"), new("place-notes", "notes"),
    ];

    /// <summary>A row a hole with its two bags; <c>treatment</c> only where a campaign has some.</summary>
    public static IReadOnlyList<KitColumn> HoleColumns { get; } =
    [
        new("hole", "burial_id"), new("place", "site_id"), new("buried", "buried_on"), new("dug", "retrieved_on"),
        new("fast-before", "mass_initial_g", "fast"), new("fast-after", "mass_final_g", "fast"), new("fast-state", "condition", "fast"),
        new("slow-before", "mass_initial_g", "slow"), new("slow-after", "mass_final_g", "slow"), new("slow-state", "condition", "slow"),
        new("treatment", "treatment"), new("depth", "depth_cm"), new("notes", "notes"),
    ];

    /// <summary>A line each.</summary>
    public static IReadOnlyList<KitColumn> AboutLines { get; } =
        [new("contact", "contact_name"), new("email", "contact_email"), new("revision", "revision"), Balance];

    /// <summary>What the last digit of the balance stands for, of all bags.</summary>
    public static KitColumn Balance => new("balance", "balance_resolution_g");

    /// <summary>The number of a bag: that of its hole, and A for the fast or B for the slow litter.</summary>
    public static string BagOf(string hole, string role) => hole + (role == "fast" ? "A" : "B");

    /// <summary>What the contributions of a group are called.</summary>
    public static string NameOf(string campaign, string group) => $"{campaign}-{group}".ToLowerInvariant();
}
