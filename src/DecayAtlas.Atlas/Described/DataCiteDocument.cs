using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Described;

/// <summary>A release as a document of the DataCite Metadata Schema 4, as JSON, for whoever registers a DOI.</summary>
public static class DataCiteDocument
{
    public const string FileName = "datacite.json";

    private static readonly JsonObject Orcid = new() { ["nameIdentifierScheme"] = "ORCID", ["schemeUri"] = "https://orcid.org" };

    /// <exception cref="AtlasException">The release has no day of publication.</exception>
    public static string Of(ReleaseDescription release)
    {
        DateOnly published = release.Published ?? throw new AtlasException("A DOI needs a year of publication, and none is given.");
        JsonObject document = new()
        {
            ["types"] = new JsonObject { ["resourceTypeGeneral"] = "Dataset", ["resourceType"] = "Litter-bag decomposition" },
            ["creators"] = List(release.Creators.Select(NameOf)),
            ["titles"] = List([new() { ["title"] = release.Title }]),
            ["publisher"] = new JsonObject { ["name"] = release.Publisher },
            ["publicationYear"] = published.Year.ToString("0000", InvariantCulture),
            ["subjects"] = List([
                .. release.Keywords.Select(word => new JsonObject { ["subject"] = word }),
                .. release.Terms.Select(t => new JsonObject { ["subject"] = t.Word, ["subjectScheme"] = t.Scheme, ["valueUri"] = t.Iri }),
            ]),
            ["contributors"] = List([
                .. release.Contacts.Select(party => With(NameOf(party), "contributorType", "ContactPerson")),
                .. release.Groups.Select(name => With(NameOf(new NamedParty(name, false)), "contributorType", "DataCollector")),
            ]),
            ["dates"] = List([
                new() { ["date"] = Day(published), ["dateType"] = "Issued" },
                .. release is { From: { } from, To: { } to }
                    ? new[] { new JsonObject { ["date"] = $"{Day(from)}/{Day(to)}", ["dateType"] = "Collected" } } : [],
            ]),
            ["language"] = "en",
            ["version"] = release.Id,
            ["rightsList"] = List(release.Licences.Select(RightsOf)),
            ["descriptions"] = List([
                new() { ["description"] = release.Abstract, ["descriptionType"] = "Abstract" },
                new() { ["description"] = $"Computed and published with {release.Software}.", ["descriptionType"] = "Methods" },
            ]),
            ["geoLocations"] = List(release.Box is { } box
                ? [new() { ["geoLocationBox"] = new JsonObject
                {
                    ["westBoundLongitude"] = box.West, ["eastBoundLongitude"] = box.East,
                    ["southBoundLatitude"] = box.South, ["northBoundLatitude"] = box.North,
                } }] : []),
            ["schemaVersion"] = "http://datacite.org/schema/kernel-4",
        };
        if (release.Doi is { } doi)
            document["doi"] = doi;
        if (release.Url is { } url)
            document["url"] = url;
        if (release.DoiOfAll is { } all && all != release.Doi)
        {
            document["relatedIdentifiers"] = List([new()
            {
                ["relatedIdentifier"] = all, ["relatedIdentifierType"] = "DOI", ["relationType"] = "IsVersionOf",
            }]);
        }
        foreach (string empty in document.Where(pair => pair.Value is JsonArray { Count: 0 }).Select(pair => pair.Key).ToArray())
            document.Remove(empty);
        return document.ToJsonString(JsonText.Options) + "\n";
    }

    private static JsonArray List(IEnumerable<JsonObject> items) => [.. items];

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", InvariantCulture);

    private static JsonObject With(JsonObject item, string key, string value)
    {
        item[key] = value;
        return item;
    }

    private static JsonObject NameOf(NamedParty party)
    {
        JsonObject name = new() { ["name"] = party.Sorted, ["nameType"] = party.IsPerson ? "Personal" : "Organizational" };
        if (party is { IsPerson: true, Given: { } given, Family: { } family })
            (name["givenName"], name["familyName"]) = (given, family);
        if (party.Orcid is { } orcid)
        {
            JsonObject identifier = (JsonObject)Orcid.DeepClone();
            identifier["nameIdentifier"] = orcid;
            name["nameIdentifiers"] = new JsonArray(identifier);
        }
        if (party.Affiliation is { } affiliation)
            name["affiliation"] = new JsonArray(new JsonObject { ["name"] = affiliation });
        return name;
    }

    private static JsonObject RightsOf(DescribedLicence licence)
    {
        JsonObject rights = new()
        {
            ["rights"] = Invariant($"{licence.Name} ({licence.Contributions} contributions)"),
        };
        if (licence.Iri is { } iri)
        {
            rights["rightsUri"] = iri;
            if (OpenLicence.Known(licence.Name) is { } known)
            {
                (rights["rightsIdentifier"], rights["rightsIdentifierScheme"], rights["schemeUri"]) =
                    (known.Id, "SPDX", "https://spdx.org/licenses/");
            }
        }
        return rights;
    }
}
