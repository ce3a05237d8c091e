using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Described;

/// <summary>A file of a release that somebody can take away.</summary>
/// <param name="Address">Where it lies, relative to what describes it or absolute.</param>
/// <param name="Format">Its media type.</param>
public sealed record DescribedFile(string Address, string Format, string Meaning, long? Bytes = null, string? Sha256 = null);

/// <summary>A release as a Dataset of schema.org, which search engines for data read.</summary>
public static class SchemaOrgDataset
{
    public const string Context = "https://schema.org/";

    /// <summary>With its context, to stand by itself.</summary>
    /// <param name="files">What can be fetched, by addresses that anybody can follow.</param>
    public static JsonObject Of(ReleaseDescription release, IEnumerable<DescribedFile> files)
    {
        JsonObject dataset = new() { ["@context"] = Context };
        foreach ((string key, JsonNode? value) in Described(release))
            dataset[key] = value?.DeepClone();
        JsonArray downloads = [.. files.Select(f => Entity("DataDownload", ("name", f.Meaning), ("contentUrl", f.Address),
            ("encodingFormat", f.Format), ("contentSize", f.Bytes is { } bytes ? Invariant($"{bytes} B") : null)))];
        if (downloads.Count > 0)
            dataset["distribution"] = downloads;
        return dataset;
    }

    /// <summary>Without context and files; what else it is about stands within it.</summary>
    internal static JsonObject Described(ReleaseDescription release)
    {
        JsonObject dataset = Entity("Dataset", ("name", release.Title), ("description", release.Abstract), ("version", release.Id),
            ("identifier", release.Address), ("url", release.Url), ("datePublished", Day(release.Published)),
            ("temporalCoverage", release is { From: { } from, To: { } to } ? $"{Day(from)}/{Day(to)}" : null),
            ("creditText", release.Creators.Count == 0 ? null : string.Join("; ", release.Creators.Select(c => c.Name))));
        dataset["isAccessibleForFree"] = true;
        dataset["publisher"] = Entity("Organization", ("name", release.Publisher));
        Add("creator", release.Creators.Select(PartyOf));
        Add("contributor", release.Groups.Select(name => Entity("Organization", ("name", name))));
        Add("license", release.Licences.Select(l => l.Iri is { } iri
            ? Entity("CreativeWork", ("@id", iri), ("name", l.Name), ("url", iri)) : Entity("CreativeWork", ("name", l.Name))));
        Add("keywords", release.Keywords.Select(word => (JsonNode)word).Concat(release.Terms.Select(t => Entity("DefinedTerm",
            ("@id", t.Iri), ("name", t.Word), ("termCode", t.Code), ("inDefinedTermSet", t.Scheme), ("url", t.Iri)))));
        Add("variableMeasured", release.Variables.Select(v => Entity("PropertyValue", ("name", v.Name), ("description", v.Meaning),
            ("unitText", v.Unit), ("unitCode", v.Ucum is null ? null : "UCUM:" + v.Ucum))));
        if (release.Box is { } box)
        {
            JsonObject place = Entity("Place", ("name", "Extent of the sites"));
            // latitude before longitude
            place["geo"] = Entity("GeoShape", ("box", Invariant($"{box.South} {box.West} {box.North} {box.East}")));
            dataset["spatialCoverage"] = place;
        }
        if (release is { Doi: not null, DoiOfAll: { } all })
            dataset["isPartOf"] = Entity("CreativeWork", ("@id", "https://doi.org/" + all), ("name", release.Title));
        return dataset;

        void Add(string key, IEnumerable<JsonNode> values)
        {
            JsonArray list = [.. values];
            if (list.Count > 0)
                dataset[key] = list;
        }
    }

    internal static JsonObject Entity(string type, params (string Key, string? Value)[] properties)
    {
        JsonObject entity = new() { ["@type"] = type };
        foreach ((string key, string? value) in properties)
        {
            if (value is not null)
                entity[key] = value;
        }
        return entity;
    }

    private static string? Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", InvariantCulture);

    private static JsonObject PartyOf(NamedParty party)
    {
        JsonObject entity = Entity(party.IsPerson ? "Person" : "Organization", ("@id", party.Orcid), ("name", party.Name),
            ("givenName", party.IsPerson ? party.Given : null), ("familyName", party.IsPerson ? party.Family : null),
            ("url", party.Website));
        if (party.Affiliation is { } affiliation)
            entity["affiliation"] = Entity("Organization", ("name", affiliation));
        return entity;
    }
}
