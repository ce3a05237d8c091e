using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using DecayAtlas.Text.Documents;

namespace DecayAtlas.Atlas.Tests;

/// <summary>The documents that tell catalogues of a release, held to the schemas that their makers published (Published/), to what was
/// planted by hand, and to what DuckDB reads of the release.</summary>
public sealed class WhatCataloguesRead : AtlasInTemporaryFolder
{
    private const string File = """
        cff-version: 1.2.0
        title: Not the release's, which has it from its settings
        message: Please cite.
        authors:
          - given-names: Ludmila
            name-particle: von
            family-names: Ostrander
            orcid: https://orcid.org/0000-0002-1825-0097
            affiliation: Westfold Soil Laboratory
          - name: The Westfold campaign
        contact: [{ name: Data desk, website: "https://soil.example/desk" }]
        keywords: [litter bags, "1e5"]
        doi: 10.1234/all
        license: CC0-1.0
        version: 3
        """;

    private static readonly Citation Citation = Citation.Of(Parsed(File));

    private static readonly Dictionary<string, string> Titles = new() { ["g1"] = "Schule am Fluß" };

    private ReleaseDescription Described(Citation? citation = null, string licence = "CC-BY-4.0")
    {
        ReleaseOutcome made = Publish(statement: Given.Statement with { Citation = citation, Licences = [licence] });
        return ReleaseDescription.Of(new(Atlas, made.Release.Id), Titles);
    }

    private ReleaseDescription Dated() => Described(Citation) with { Doi = "10.1234/this", Published = new(2026, 5, 31) };

    [Fact]
    public void A_release_knows_who_made_it_where_when_and_under_which_licences()
    {
        ReleaseDescription release = Described(Citation);

        Assert.Equal(["Ludmila von Ostrander", "The Westfold campaign"], release.Creators.Select(c => c.Name));
        Assert.Equal("von Ostrander, Ludmila", release.Creators[0].Sorted);
        Assert.Equal(["Schule am Fluß"], release.Groups);
        Assert.Equal([("CC-BY-4.0", 1)], release.Licences.Select(l => (l.Name, l.Contributions)));
        Assert.Equal("Test atlas", release.Title);
        object?[] days = Query("SELECT min(buried_on), max(retrieved_on) FROM read_parquet('$current/burials/**/*.parquet') "
            + "WHERE \"use\" <> 'rejected'")[0];
        Assert.Equal((days[0], days[1]), (release.From, release.To));
        object?[] places = Query("SELECT min(decimal_longitude), min(decimal_latitude), max(decimal_longitude), max(decimal_latitude) "
            + "FROM read_parquet('$current/sites/**/*.parquet') WHERE site_key <> 'g1/S3'")[0];
        DescribedBox box = release.Box!;
        Assert.Equal(places, [box.West, box.South, box.East, box.North]);
        Assert.Contains(release.Variables, v => v is { Name: "k_per_day", Unit: "d-1", Ucum: "/d" });
        Assert.Contains(release.Variables, v => v is { Name: "clay", Unit: "%", Ucum: "%" });
    }

    [Theory]
    [InlineData(new[] { 10.0, 12, 30 }, 10, 30)]
    [InlineData(new[] { 178.0, -179, 176, -175 }, 176, -175)]
    [InlineData(new[] { -100.0, 0, 100 }, -100, 100)]
    [InlineData(new[] { 5.0 }, 5, 5)]
    public void The_box_is_the_narrowest_that_holds_the_sites_over_the_antimeridian_too(double[] longitudes, double west, double east)
    {
        ContributorRows rows = Given.Rows();
        ReleasedSite site = AtlasTables.Sites.RowsOf(rows.RunOf("sites/block=N50E010/sites.parquet"))[0];
        ReleasedBurial burial = AtlasTables.Burials.RowsOf(rows.First(r => r.Key.StartsWith("burials/", StringComparison.Ordinal)).Value)[0];
        ContributorRows other = new("g2")
        {
            {
                AtlasTables.Sites,
                [.. longitudes.Select((x, i) => site with { SiteKey = $"g2/{i}", LongitudeDegrees = x, Block = "N50E010" })]
            },
            {
                AtlasTables.Burials,
                [.. longitudes.Select((_, i) => burial with { SiteKey = $"g2/{i}", BurialId = $"{i}" })]
            },
        };
        ReleaseOutcome made = new ReleaseWriter(Atlas).Publish(Files(Atlas, other), Given.Statement);

        DescribedBox box = ReleaseDescription.Of(new(Atlas, made.Release.Id), Titles).Box!;
        Assert.Equal((west, east), (box.West, box.East));
    }

    [Fact]
    public void CITATION_cff_is_one_and_says_what_the_curator_said_of_this_release()
    {
        ReleaseOutcome made = Publish(statement: Given.Statement with { Citation = Citation });
        string text = System.IO.File.ReadAllText(Path.Combine(Atlas.FolderOf(made.Release), "CITATION.cff"));
        JsonObject said = Valid(text, "cff-1.2.0.json");

        Assert.Equal((made.Release.Id, "Test atlas", "CC-BY-4.0", "Please cite."),
            ((string)said["version"]!, (string)said["title"]!, (string)said["license"]!, (string)said["message"]!));
        Assert.Equal("von", (string)said["authors"]![0]!["name-particle"]!);
        Assert.Equal(["litter bags", "1e5"], said["keywords"]!.AsArray().Select(k => (string)k!));
        Assert.Empty(new AtlasCheck(Atlas).Run(null));
    }

    /// <summary>In that format licences in a list are a choice (a remark in its schema), which those of several contributions are
    /// not.</summary>
    [Theory]
    [InlineData(new[] { "cc-by-4.0" }, "CC-BY-4.0", null)]
    [InlineData(new[] { "CC-BY-4.0", "CC0-1.0" }, null, null)]
    [InlineData(new[] { "NLOD-2.0" }, null, "https://spdx.org/licenses/NLOD-2.0")]
    [InlineData(new[] { "https://creativecommons.org/licenses/by/4.0/deed.de" }, "CC-BY-4.0", null)]
    public void One_licence_of_all_contributions_is_named_and_several_are_not(string[] licences, string? id, string? address)
    {
        ReleaseOutcome made = Publish(statement: Given.Statement with { Licences = licences });
        JsonObject said = Valid(System.IO.File.ReadAllText(Path.Combine(Atlas.FolderOf(made.Release), "CITATION.cff")), "cff-1.2.0.json");
        Assert.Equal((id, address), ((string?)said["license"], (string?)said["license-url"]));
        Assert.Equal("Test campaign", (string?)said["authors"]![0]!["name"]);
    }

    [Fact]
    public void Another_citation_is_another_release_and_none_is_the_one_as_before()
    {
        string none = Publish().Release.Id, cited = Publish(statement: Given.Statement with { Citation = Citation }).Release.Id;
        Assert.NotEqual(none, cited);
        Assert.True(Described(Citation).IsCitedAs(Citation));
        Assert.False(Described(Citation).IsCitedAs(null));
        Assert.Equal(none, Publish(statement: Given.Statement).Release.Id);
    }

    [Fact]
    public void The_document_for_DataCite_is_one()
    {
        JsonObject said = Valid(DataCiteDocument.Of(Dated()), "datacite-4.6.json");

        Assert.Equal(("10.1234/this", "2026"), ((string)said["doi"]!, (string)said["publicationYear"]!));
        Assert.Equal(("10.1234/all", "IsVersionOf"), ((string)said["relatedIdentifiers"]![0]!["relatedIdentifier"]!,
            (string)said["relatedIdentifiers"]![0]!["relationType"]!));
        Assert.Equal("https://orcid.org/0000-0002-1825-0097",
            (string)said["creators"]![0]!["nameIdentifiers"]![0]!["nameIdentifier"]!);
        Assert.Equal(["Data desk", "Schule am Fluß"], said["contributors"]!.AsArray().Select(c => (string)c!["name"]!));
    }

    [Fact]
    public void Without_a_day_of_publication_there_is_no_document_for_DataCite() =>
        Assert.Contains("year of publication", Assert.Throws<AtlasException>(() => DataCiteDocument.Of(Described())).Message,
            StringComparison.Ordinal);

    /// <summary>RO-Crate 1.3: a descriptor that leads to the root, a root with name, description, day and licence, every entity flat and
    /// with an id of its own, every reference leading to one (the specification, from memory).</summary>
    [Fact]
    public void The_crate_is_flat_and_every_reference_leads_somewhere()
    {
        string crate = ResearchCrate.Of(Dated(), [new("release.zip", "application/zip", "All.", 5, new string('a', 64))]);
        JsonObject[] graph = [.. JsonNode.Parse(crate)!["@graph"]!.AsArray().Select(e => e!.AsObject())];
        Dictionary<string, JsonObject> entities = graph.ToDictionary(e => (string)e["@id"]!);

        JsonObject descriptor = entities["ro-crate-metadata.json"], root = entities[(string)descriptor["about"]!["@id"]!];
        Assert.Equal("https://w3id.org/ro/crate/1.3", (string)descriptor["conformsTo"]!["@id"]!);
        Assert.Equal("Dataset", (string)root["@type"]!);
        Assert.All(new[] { "name", "description", "datePublished", "license" }, key => Assert.NotNull(root[key]));
        Assert.Equal("2026-05-31", (string)root["datePublished"]!);
        Assert.Equal("File", (string)entities["release.zip"]["@type"]!);
        foreach (JsonNode inner in graph.SelectMany(e => e).Where(p => p.Key != "conformsTo")
            .SelectMany(p => p.Value is JsonArray list ? list.ToArray() : [p.Value]).OfType<JsonObject>())
        {
            Assert.Equal("@id", Assert.Single(inner.AsObject()).Key);
            Assert.Contains((string)inner["@id"]!, entities.Keys);
        }
    }

    /// <summary>Properties of Dataset and of what stands in it, as schema.org 29 has them (from memory).</summary>
    [Fact]
    public void The_dataset_of_schema_org_has_what_search_engines_ask_for()
    {
        JsonObject dataset = SchemaOrgDataset.Of(Dated(), [new("downloads/release.zip", "application/zip", "All.", 5)]);
        string[] known =
        [
            "@context", "@type", "name", "description", "version", "identifier", "url", "datePublished", "temporalCoverage", "creditText",
            "isAccessibleForFree", "publisher", "creator", "contributor", "license", "keywords", "variableMeasured", "spatialCoverage",
            "isPartOf", "distribution",
        ];
        Assert.Empty(dataset.Select(p => p.Key).Except(known));
        Assert.Equal("https://doi.org/10.1234/this", (string)dataset["identifier"]!);
        // south west, north east; S2 is sensitive and stands in the middle of its cell of 0.1 degrees
        Assert.Equal("-33.25 -70.55 50.04 10.04", (string)dataset["spatialCoverage"]!["geo"]!["box"]!);
    }

    [Fact]
    public void A_folder_for_a_repository_holds_the_release_and_all_that_tells_of_it()
    {
        ReleaseOutcome made = Publish(statement: Given.Statement with { Citation = Citation });
        ReleaseDescription release = ReleaseDescription.Of(new(Atlas, made.Release.Id), Titles) with
        {
            Doi = "10.1234/this",
            Published = new(2026, 5, 31),
        };
        string one = Directory.CreateDirectory(Path.Combine(Atlas.Root, "one")).FullName,
            two = Directory.CreateDirectory(Path.Combine(Atlas.Root, "two")).FullName;
        IReadOnlyList<ExportedFile> files = ReleaseDeposit.WriteTo(one, Atlas, made.Release, release);
        ReleaseDeposit.WriteTo(two, Atlas, made.Release, release);

        Assert.Equal(Bytes(one), Bytes(two));
        Assert.Empty(Directory.GetDirectories(one));
        Assert.Equal(files.Select(f => f.Path).Order(), Directory.GetFiles(one).Select(f => Path.GetFileName(f)!).Order());
        JsonObject cited = Valid(System.IO.File.ReadAllText(Path.Combine(one, "CITATION.cff")), "cff-1.2.0.json");
        Assert.Equal(("10.1234/this", "2026-05-31", "10.1234/all"),
            ((string)cited["doi"]!, (string)cited["date-released"]!, (string)cited["identifiers"]![0]!["value"]!));
        ZipFile.ExtractToDirectory(Path.Combine(one, ReleaseDeposit.ParquetName), Path.Combine(one, "unpacked"));
        string count = "SELECT count(*), sum(k_per_day) FROM read_parquet('{0}/burials/**/*.parquet')";
        Assert.Equal(Query(string.Format(System.Globalization.CultureInfo.InvariantCulture, count, "$current")),
            Query(string.Format(System.Globalization.CultureInfo.InvariantCulture, count, Path.Combine(one, "unpacked"))));
    }

    /// <summary>Texts that YAML 1.1 or 1.2 takes for something else where they stand without quotes.</summary>
    [Theory]
    [InlineData("123456789012")]
    [InlineData("1e1023456789")]
    [InlineData("0x1F")]
    [InlineData("0o17")]
    [InlineData(".inf")]
    [InlineData("~")]
    [InlineData("no")]
    [InlineData("null")]
    [InlineData("2026-05-31")]
    [InlineData("a: b # c")]
    [InlineData("- list")]
    [InlineData("two\nlines\n")]
    [InlineData("")]
    [InlineData(" \"quoted\" ")]
    public void Any_text_comes_back_as_text(string text) =>
        Assert.Equal(text, (string)Parsed(YamlText.Of(new() { ["a"] = text, ["b"] = new JsonArray(text) }))["b"]![0]!);

    private static JsonObject Parsed(string yaml) =>
        YamlDocument.Parse("said.yaml", () => new MemoryStream(Encoding.UTF8.GetBytes(yaml))).Root.AsObject();

    private static JsonObject Valid(string text, string schema)
    {
        YamlDocument document = YamlDocument.Parse("said", () => new MemoryStream(Encoding.UTF8.GetBytes(text)));
        document.Validate(System.IO.File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Published", schema)));
        return document.Root.AsObject();
    }
}
