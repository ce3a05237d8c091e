using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Described;

/// <summary>Where the sites of a release lie, in degrees; <paramref name="West"/> is above <paramref name="East"/> where they lie on both
/// sides of the antimeridian.</summary>
public sealed record DescribedBox(double West, double South, double East, double North);

/// <summary>A licence and how many contributions have it.</summary>
/// <param name="Iri">Its address; missing for a licence that is not known.</param>
public sealed record DescribedLicence(string Name, string? Iri, int Contributions);

/// <param name="Unit">As the tables have it.</param>
/// <param name="Ucum">The unit by the Unified Code for Units of Measure; missing where there is none.</param>
public sealed record DescribedVariable(string Name, string Meaning, string? Unit, string? Ucum);

/// <summary>A word of the release and a concept of an open vocabulary that comes close to it.</summary>
public sealed record DescribedTerm(string Word, string Scheme, string? Code, string Iri);

/// <summary>
/// A release as catalogues know data: who made it, what it holds, where and when, under which licences. From it every document that
/// a catalogue reads is made.
/// </summary>
public sealed record ReleaseDescription
{
    public required string Id { get; init; }

    internal ReleaseStatement Statement { get; init; } = new("", "", "", "", []);

    public required string Title { get; init; }

    public required string Abstract { get; init; }

    public required string Publisher { get; init; }

    public required string Software { get; init; }

    /// <summary>The publisher alone, where the curator names nobody.</summary>
    public required IReadOnlyList<NamedParty> Creators { get; init; }

    /// <summary>Whether the curator names nobody else as who made the data.</summary>
    public bool IsOfPublisherAlone => Statement.Citation is null;

    /// <summary>Whether the release was published with what a curator's file says now.</summary>
    public bool IsCitedAs(Citation? now) => now?.Said.ToJsonString() == Statement.Citation?.Said.ToJsonString();

    /// <summary>People and bodies to ask.</summary>
    public required IReadOnlyList<NamedParty> Contacts { get; init; }

    /// <summary>Groups that sent in what is in the release, as the curator's campaigns name them, or by their ids.</summary>
    public required IReadOnlyList<string> Groups { get; init; }

    public required IReadOnlyList<string> Keywords { get; init; }

    public required IReadOnlyList<DescribedTerm> Terms { get; init; }

    public required IReadOnlyList<DescribedLicence> Licences { get; init; }

    public required IReadOnlyList<DescribedVariable> Variables { get; init; }

    /// <summary>Of the published places; missing where there is none.</summary>
    public DescribedBox? Box { get; init; }

    /// <summary>The first day of a burial.</summary>
    public DateOnly? From { get; init; }

    /// <summary>The last day of a retrieval.</summary>
    public DateOnly? To { get; init; }

    /// <summary>Of the data over all releases.</summary>
    public string? DoiOfAll { get; init; }

    /// <summary>Of this release alone.</summary>
    public string? Doi { get; init; }

    public DateOnly? Published { get; init; }

    /// <summary>Where the data is presented.</summary>
    public string? Url { get; init; }

    /// <summary>The address of this release, or else of the data, that a citation leads to.</summary>
    public string? Address => (Doi ?? DoiOfAll) is { } doi ? "https://doi.org/" + doi : Url;

    /// <param name="titles">What groups are called, by their ids.</param>
    /// <exception cref="AtlasException">The release can't be read.</exception>
    public static ReleaseDescription Of(ReleaseReader reader, IReadOnlyDictionary<string, string> titles)
    {
        ReleaseStatement statement = StatementIn(reader.DescriptorFile);
        JsonObject said = statement.Citation?.Said ?? [];
        ReleasedContribution[] contributions = [.. reader.Rows(AtlasTables.Contributions)];
        IReadOnlyList<ReleasedSite> sites = reader.Rows(AtlasTables.Sites);
        (DateOnly? from, DateOnly? to, HashSet<string> dug) = DugIn(reader.Each(AtlasTables.Burials));
        return new()
        {
            Id = reader.ReleaseId,
            Statement = statement,
            Title = statement.Title,
            Abstract = (string?)said["abstract"] ?? ReleaseDescriptor.Description,
            Publisher = statement.Publisher,
            Software = "DecayAtlas " + statement.SoftwareVersion,
            Creators = Parties("authors") is { Count: > 0 } authors ? authors : [new NamedParty(statement.Publisher, false)],
            Contacts = Parties("contact"),
            Groups = [.. contributions.Select(c => c.ContributorId).Distinct(StringComparer.Ordinal)
                .Select(id => titles.GetValueOrDefault(id, id)).Order(StringComparer.Ordinal)],
            Keywords = [.. (said["keywords"] as JsonArray ?? []).Select(word => (string)word!)],
            Terms = TermsOf(sites, reader.Rows(AtlasTables.Words)),
            Licences = [.. contributions.GroupBy(c => OpenLicence.Known(c.Licence)?.Id ?? c.Licence, StringComparer.Ordinal)
                .Select(g => new DescribedLicence(g.Key, OpenLicence.Known(g.Key)?.Iri ?? WebAddress(g.Key), g.Count()))
                .OrderByDescending(l => l.Contributions).ThenBy(l => l.Name, StringComparer.Ordinal)],
            Variables = VariablesOf(reader),
            Box = BoxOf(sites.Where(s => dug.Contains(s.SiteKey))),
            From = from,
            To = to,
            DoiOfAll = (string?)said["doi"],
            Published = (string?)said["date-released"] is { } day ? DateOnly.ParseExact(day, "yyyy-MM-dd", InvariantCulture) : null,
            Url = (string?)said["url"],
        };

        IReadOnlyList<NamedParty> Parties(string key) => [.. (said[key] as JsonArray ?? []).Select(p => NamedParty.Of(p!))];
    }

    private static string? WebAddress(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https" ? text : null;

    private static ReleaseStatement StatementIn(string descriptor)
    {
        try
        {
            return ReleaseDescriptor.StatementIn(JsonNode.Parse(File.ReadAllBytes(descriptor)))
                ?? throw new JsonException("it lacks what the release was made from");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
        {
            throw new AtlasException($"{descriptor} can't be read; let decayatlas verify name what rotted, and restore the release from a "
                + "backup.", e);
        }
    }

    // what was rejected says nothing of when and where
    private static (DateOnly?, DateOnly?, HashSet<string>) DugIn(IEnumerable<ReleasedBurial> burials)
    {
        DateOnly? from = null, to = null;
        HashSet<string> sites = new(StringComparer.Ordinal);
        foreach (ReleasedBurial burial in burials.Where(b => b.Use != AtlasCode.Of(Use.Rejected)))
        {
            sites.Add(burial.SiteKey);
            from = burial.BuriedOn < (from ?? DateOnly.MaxValue) ? burial.BuriedOn : from;
            to = burial.RetrievedOn > (to ?? DateOnly.MinValue) ? burial.RetrievedOn : to;
        }
        return (from, to, sites);
    }

    private static DescribedBox? BoxOf(IEnumerable<ReleasedSite> sites)
    {
        (double X, double Y)[] places = [.. sites.Select(SitePoint.Of).OfType<NetTopologySuite.Geometries.Point>().Select(p => (p.X, p.Y))];
        if (places.Length == 0)
            return null;
        double[] x = [.. places.Select(p => p.X).Order()];
        // all round the Earth but for the widest gap between neighbours
        int first = Enumerable.Range(0, x.Length - 1).Select(i => (Gap: x[i + 1] - x[i], First: i + 1))
            .Append((Gap: x[0] + 360 - x[^1], First: 0)).MaxBy(g => g.Gap).First;
        return new(x[first], places.Min(p => p.Y), x[(first + x.Length - 1) % x.Length], places.Max(p => p.Y));
    }

    private static IReadOnlyList<DescribedTerm> TermsOf(IEnumerable<ReleasedSite> sites, IEnumerable<ReleasedWord> words)
    {
        HashSet<(string List, string Word)> used = [];
        foreach (ReleasedSite site in sites)
        {
            foreach ((string list, string? word) in new[]
            {
                ("ecosystem", site.Ecosystem), ("land_use", site.LandUse), ("management", site.Management),
            })
            {
                if (word is not null)
                    used.Add((list, word));
            }
        }
        return
        [
            .. words.Where(w => w is { Iri: not null, Scheme: not null, IsFromMemory: not true }
                && used.Contains((w.List, w.Word))).DistinctBy(w => w.Iri)
                .Select(w => new DescribedTerm(w.Word, w.Scheme!, w.Code, w.Iri!)),
        ];
    }

    private static IReadOnlyList<DescribedVariable> VariablesOf(ReleaseReader reader)
    {
        string[] computed = ["k_per_day", "s", "fast_remaining_fraction", "slow_remaining_fraction", "exposure_days", "depth_cm"];
        Dictionary<string, ColumnInfo> columns = AtlasTables.Burials.ColumnInfos.ToDictionary(c => c.Name, StringComparer.Ordinal);
        return
        [
            .. computed.Select(name => columns[name]).Select(c => new DescribedVariable(c.Name, c.Description, c.Unit, UcumOf(c.Unit))),
            .. reader.Rows(AtlasTables.Covariates).DistinctBy(c => c.Covariate).OrderBy(c => c.Covariate, StringComparer.Ordinal)
                .Select(c => new DescribedVariable(c.Covariate, "Covariate at the sites.", c.Unit is "" ? null : c.Unit, UcumOf(c.Unit))),
        ];
    }

    /// <summary>Units of the tables and of grids by the Unified Code for Units of Measure (ucum.org, version 2.1, from memory).</summary>
    public static string? UcumOf(string? unit) => unit switch
    {
        "d-1" => "/d",
        "degC" => "Cel",
        "percent" or "%" => "%",
        "pH" => "[pH]",
        "mm/yr" => "mm/a",
        "g/kg" or "g kg-1" => "g/kg",
        "1" or "d" or "g" or "cm" or "m" or "mm" or "K" => unit,
        _ => null,
    };
}
