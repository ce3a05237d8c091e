namespace DecayAtlas.Contributions.Packages;

/// <summary>
/// The licences under which a contribution can be published, by their identifiers in the SPDX list, whose capitals do not count (SPDX 2.3,
/// annex D, from memory). All are open by the Open Definition 2.1: anyone may use, change and share, for any purpose; so that NC and ND are
/// none of them.
/// </summary>
public static class OpenLicence
{
    /// <summary>By its identifier in the SPDX list.</summary>
    /// <param name="Iri">Its page in that list.</param>
    /// <param name="IsInCitations">Whether the Citation File Format 1.2.0 knows it, whose list is of 2021 (from memory).</param>
    public sealed record Named(string Id, string Iri, bool IsInCitations);

    private static readonly string[] NewerThanCitations = ["DL-DE-BY-2.0", "DL-DE-ZERO-2.0", "NLOD-2.0"];

    /// <summary>Each with the address that may stand for it, without its beginning and its last slash.</summary>
    private static readonly (string Id, string Address)[] All =
    [
        ("CC0-1.0", "creativecommons.org/publicdomain/zero/1.0"), ("CC-BY-4.0", "creativecommons.org/licenses/by/4.0"),
        ("CC-BY-SA-4.0", "creativecommons.org/licenses/by-sa/4.0"), ("CC-BY-3.0", "creativecommons.org/licenses/by/3.0"),
        ("CC-BY-SA-3.0", "creativecommons.org/licenses/by-sa/3.0"), ("ODbL-1.0", "opendatacommons.org/licenses/odbl/1-0"),
        ("ODC-By-1.0", "opendatacommons.org/licenses/by/1-0"), ("PDDL-1.0", "opendatacommons.org/licenses/pddl/1-0"),
        ("DL-DE-BY-2.0", "www.govdata.de/dl-de/by-2-0"), ("DL-DE-ZERO-2.0", "www.govdata.de/dl-de/zero-2-0"),
        ("etalab-2.0", "www.etalab.gouv.fr/licence-ouverte-open-licence"),
        ("OGL-UK-3.0", "www.nationalarchives.gov.uk/doc/open-government-licence/version/3"), ("NLOD-2.0", "data.norge.no/nlod/en/2.0"),
    ];

    public static IReadOnlyList<string> Names { get; } = [.. All.Select(licence => licence.Id)];

    /// <summary>What is expected of a licence, and how to mend another.</summary>
    public static string Expected => "an open licence, or the contribution can't be published: " + string.Join(", ", Names);

    public static bool IsOne(string name) => Names.Contains(name, StringComparer.OrdinalIgnoreCase);

    /// <summary>The licence that a name or an address stands for; nothing where it is none of these.</summary>
    public static Named? Known(string nameOrAddress)
    {
        string? id = All.Where(licence => licence.Id.Equals(nameOrAddress, StringComparison.OrdinalIgnoreCase)
            || IsAddressOf(licence.Address, nameOrAddress)).Select(licence => licence.Id).FirstOrDefault();
        return id is null ? null : new(id, "https://spdx.org/licenses/" + id, !NewerThanCitations.Contains(id));
    }

    public static bool IsAddressOfOne(string address) => All.Any(licence => IsAddressOf(licence.Address, address));

    private static bool IsAddressOf(string known, string address)
    {
        string plain = address.Trim().TrimEnd('/');
        int start = plain.IndexOf("://", StringComparison.Ordinal);
        string bare = start < 0 ? plain : plain[(start + 3)..];
        return bare.Equals(known, StringComparison.OrdinalIgnoreCase) || bare.StartsWith(known + "/", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>As an order.</summary>
    public static string MendOf(string found) =>
        IsRestricted(found) ? "ask the group whether it agrees to CC-BY-4.0, under which everybody may use the data and names who made "
            + "them; NC and ND forbid that"
        : Nearest.Of(found, Names) is { } near ? $"write {near}, if that was meant"
        : "choose one with the group: CC-BY-4.0 asks to be named, CC0-1.0 asks nothing";

    // a licence that forbids something is not one that was misspelt
    private static bool IsRestricted(string name) =>
        name.Split('-', ' ', '_', '/', '.').Any(part => part.ToUpperInvariant() is "NC" or "ND");
}
