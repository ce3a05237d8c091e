using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Features;

/// <summary>The features of one release: about half a kilobyte a burial in memory.</summary>
internal sealed class ReleaseFeatures
{
    private static readonly string[] SitePropertiesOfBurials =
        [nameof(ReleasedSite.CountryCode), nameof(ReleasedSite.Ecosystem), nameof(ReleasedSite.LandUse), nameof(ReleasedSite.Management)];

    private readonly FeatureTable _sites;
    private readonly FeatureTable _burials;

    /// <exception cref="AtlasException">A table can't be read.</exception>
    public ReleaseFeatures(AtlasFolder atlas, ReleaseName name)
    {
        ReleaseReader release = new(atlas, name.Id);
        string folder = atlas.FolderOf(name), path = Path.Combine(folder, "datapackage.json");
        try
        {
            JsonNode descriptor = JsonNode.Parse(File.ReadAllText(path)) ?? throw new JsonException("It is empty.");
            Title = (string?)descriptor["title"] ?? "DecayAtlas";
            Description = (string?)descriptor["description"] ?? "";
            Licences = [.. (descriptor["licenses"] as JsonArray ?? []).Select(l => (string?)l?["name"]).OfType<string>()];
            ReleasedTable<ReleasedSite> sites = new(release, folder, descriptor, AtlasTables.Sites);
            ReleasedTable<ReleasedBurial> burials = new(release, folder, descriptor, AtlasTables.Burials);
            string?[] burialSites = burials.Text(nameof(ReleasedBurial.SiteKey));
            DateOnly?[] buried = burials.Date(nameof(ReleasedBurial.BuriedOn)),
                retrieved = burials.Date(nameof(ReleasedBurial.RetrievedOn));
            _sites = SitesOf(sites, burialSites, buried, retrieved,
                release.Has(AtlasTables.SiteCampaigns) ? new(release.Rows(AtlasTables.SiteCampaigns)) : null);
            _burials = BurialsOf(burials, burialSites, buried, retrieved, sites);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
        {
            throw new AtlasException($"{path} can't be read: {e.Message.TrimEnd('.')}. Check the release with: decayatlas verify FILE.", e);
        }
    }

    public string Title { get; }

    public string Description { get; }

    public IReadOnlyList<string> Licences { get; }

    public FeatureTable Of(FeatureCollectionInfo collection) => collection == FeatureCollectionInfo.Sites ? _sites : _burials;

    private static FeatureTable SitesOf(
        ReleasedTable<ReleasedSite> table, string?[] burialSites, DateOnly?[] buried, DateOnly?[] retrieved, MappedColumns? results)
    {
        string?[] keys = table.Text(nameof(ReleasedSite.SiteKey));
        FeatureId[] ids = [.. keys.Select(IdOfSite)];
        int[] order = OrderOf(ids);
        Dictionary<FeatureId, DaySpan> spans = new();
        for (int i = 0; i < burialSites.Length; i++)
        {
            if (SpanOf(buried[i], retrieved[i]) is not { } span)
                continue;
            FeatureId site = IdOfSite(burialSites[i]);
            DaySpan known = spans.GetValueOrDefault(site, span);
            spans[site] = new DaySpan(known.From < span.From ? known.From : span.From, known.To > span.To ? known.To : span.To);
        }

        ids = ServedRows.Ordered(ids, order);
        DaySpan?[] days = [.. ids.Select(id => spans.TryGetValue(id, out DaySpan span) ? span : (DaySpan?)null)];
        ColumnInfo first = new("first_buried_on", "date", null, "Earliest burial at the site."),
            last = new("last_retrieved_on", "date", null, "Latest retrieval at the site; its latest burial where nothing was retrieved.");
        return new FeatureTable(
            ids, ServedRows.Ordered(table.Number(nameof(ReleasedSite.LongitudeDegrees)), order),
            ServedRows.Ordered(table.Number(nameof(ReleasedSite.LatitudeDegrees)), order), days,
            [
                .. table.Columns(order, FeatureCollectionInfo.Sites.Filters),
                ValueColumn.OfDates(first, [.. days.Select(d => d?.From)]), ValueColumn.OfDates(last, [.. days.Select(d => d?.To)]),
                .. results is null ? [] : ResultsOf(results, ServedRows.Ordered(keys, order)),
            ]);
    }

    // as the map and sites.geojson of the release have them
    private static IEnumerable<FeatureColumn> ResultsOf(MappedColumns results, string?[] keys)
    {
        object?[][] rows = [.. keys.Select(key => results.WholeOf(key!))];
        return MappedColumns.Infos.Select((info, i) => (FeatureColumn)(info.Type switch
        {
            "string" => new CodedTextColumn(info, [.. rows.Select(r => (string?)r[i])]),
            "integer" => ValueColumn.OfWholeNumbers(info, [.. rows.Select(r => (int?)r[i])]),
            _ => new NumberColumn(info, [.. rows.Select(r => (double?)r[i] ?? double.NaN)]),
        }));
    }

    private static FeatureTable BurialsOf(
        ReleasedTable<ReleasedBurial> table, string?[] burialSites, DateOnly?[] buried, DateOnly?[] retrieved,
        ReleasedTable<ReleasedSite> sites)
    {
        string?[] contributions = table.Text(nameof(ReleasedBurial.ContributionId)), burials = table.Text(nameof(ReleasedBurial.BurialId));
        string?[] keys = sites.Text(nameof(ReleasedSite.SiteKey));
        FeatureId[] ids = [.. contributions.Zip(burials, (contribution, burial) => new FeatureId(contribution!, burial!))];
        int[] order = OrderOf(ids);
        Dictionary<string, int> rowOfSite = Enumerable.Range(0, keys.Length).ToDictionary(i => keys[i]!);
        int[] siteRows = [.. order.Select(i => rowOfSite.GetValueOrDefault(burialSites[i]!, -1))];
        double[] longitudes = sites.Number(nameof(ReleasedSite.LongitudeDegrees)),
            latitudes = sites.Number(nameof(ReleasedSite.LatitudeDegrees));
        return new FeatureTable(
            ServedRows.Ordered(ids, order),
            Array.ConvertAll(siteRows, s => s < 0 ? double.NaN : longitudes[s]),
            Array.ConvertAll(siteRows, s => s < 0 ? double.NaN : latitudes[s]),
            Array.ConvertAll(order, i => SpanOf(buried[i], retrieved[i])),
            [
                .. table.Columns(order, FeatureCollectionInfo.Burials.Filters),
                .. SitePropertiesOfBurials.Where(p => sites.InfoOf(p) is not null).Select(property =>
                {
                    (ColumnInfo info, string?[] values) = (sites.InfoOf(property)!, sites.Text(property));
                    return new CodedTextColumn(
                        info with { Description = info.Description.TrimEnd('.') + ", of the site." },
                        Array.ConvertAll(siteRows, s => s < 0 ? null : values[s]));
                }),
            ]);
    }

    // dates in the wrong order are published as they were sent, with a flag; the span holds them both
    private static DaySpan? SpanOf(DateOnly? buried, DateOnly? retrieved) => (buried, retrieved) switch
    {
        (null, null) => null,
        ({ } from, { } to) when from > to => new DaySpan(to, from),
        _ => new DaySpan(buried ?? retrieved, retrieved ?? buried),
    };

    private static FeatureId IdOfSite(string? key) => key!.IndexOf('/', StringComparison.Ordinal) is var slash and >= 0
        ? new FeatureId(key[..slash], key[(slash + 1)..])
        : throw new AtlasException($"The release has a site {key}, which is no contributor id and site id joined by a slash; check the "
        + "release with: decayatlas verify FILE.");

    private static int[] OrderOf(FeatureId[] ids)
    {
        int[] order = [.. Enumerable.Range(0, ids.Length)];
        Array.Sort((FeatureId[])ids.Clone(), order);
        return order;
    }
}
