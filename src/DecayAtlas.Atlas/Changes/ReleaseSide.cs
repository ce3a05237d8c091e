using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Changes;

/// <summary>What is held of one of two releases that are compared.</summary>
internal sealed class ReleaseSide
{
    /// <exception cref="AtlasException">The release can't be read.</exception>
    public ReleaseSide(ReleaseReader reader)
    {
        Id = reader.ReleaseId;
        Contributions = RowsOf(AtlasTables.Contributions).ToDictionary(c => c.ContributionId, StringComparer.Ordinal);
        Sites = [.. RowsOf(AtlasTables.Sites).Select(s => s.SiteKey)];
        Burials = RowsOf(AtlasTables.Burials).ToDictionary(b => (b.ContributionId, b.BurialId));
        Bags = [.. (reader.Has(AtlasTables.Bags) ? reader.Each(AtlasTables.Bags) : [])
            .Select(b => (b.ContributionId, b.BagId))];
        SiteCampaigns = RowsOf(AtlasTables.SiteCampaigns).ToDictionary(r => (r.SiteKey, r.Campaign, r.Treatment ?? "", r.Evidence));
        Flags = RowsOf(AtlasTables.Flags);
        Decisions = RowsOf(AtlasTables.Decisions);
        string descriptor = reader.DescriptorFile;
        try
        {
            JsonNode? root = JsonNode.Parse(File.ReadAllBytes(descriptor));
            Software = (string?)root?["software"] ?? "";
            AddSettings("", root?["settings"]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
        {
            throw new AtlasException($"{descriptor} can't be read; let decayatlas verify name what rotted, and restore the release from a "
                + "backup.", e);
        }

        IReadOnlyList<TRow> RowsOf<TRow>(Table<TRow> table)
            where TRow : class => reader.Has(table) ? reader.Rows(table) : [];
    }

    public string Id { get; }

    public string Software { get; }

    public SortedDictionary<string, string> Settings { get; } = new(StringComparer.Ordinal);

    public IReadOnlyDictionary<string, ReleasedContribution> Contributions { get; }

    public IReadOnlyList<string> Sites { get; }

    public IReadOnlyDictionary<(string ContributionId, string BurialId), ReleasedBurial> Burials { get; }

    public IReadOnlyList<(string ContributionId, string BagId)> Bags { get; }

    public IReadOnlyDictionary<(string SiteKey, string Campaign, string Treatment, string Evidence), ReleasedSiteCampaign> SiteCampaigns
    { get; }

    public IReadOnlyList<ReleasedFlag> Flags { get; }

    public IReadOnlyList<ReleasedDecision> Decisions { get; }

    /// <summary>Each setting by its way from the root, as a.b.c.</summary>
    private void AddSettings(string way, JsonNode? node)
    {
        if (node is JsonObject section)
        {
            foreach ((string name, JsonNode? value) in section)
                AddSettings(way.Length == 0 ? name : $"{way}.{name}", value);
        }
        else
        {
            Settings[way] = node?.ToJsonString(JsonText.Options) ?? "null";
        }
    }
}
