using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Tests;

public class VocabularyTests
{
    public static TheoryData<string> Lists => new(Vocabulary.Lists.Select(list => list.Name));

    // How the vocabularies write their addresses, from memory: ENVO and AGRO (eight digits), AGROVOC (c_ and digits, or eight hexadecimal
    // ones), Global Ecosystem Typology (realm, biome, group), CORINE (three digits), INSPIRE (the group in the singular).
    private static readonly (string Scheme, string Form)[] Forms =
    [
        ("ENVO", @"^http://purl\.obolibrary\.org/obo/ENVO_\d{8}$"), ("AGRO", @"^http://purl\.obolibrary\.org/obo/AGRO_\d{8}$"),
        ("AGROVOC", @"^http://aims\.fao\.org/aos/agrovoc/c_(\d+|[0-9a-f]{8})$"),
        ("GET-biome", @"^https://global-ecosystems\.org/explore/biomes/[A-Z]+\d$"),
        ("GET", @"^https://global-ecosystems\.org/explore/groups/[A-Z]+\d\.\d$"),
        ("CORINE", @"^http://dd\.eionet\.europa\.eu/vocabulary/landcover/clc/\d{3}$"),
        ("GloSIS-land-use", @"^http://w3id\.org/glosis/model/codelists/landUseClassValueCode-[A-Z]+\d?$"),
        ("GloSIS-influence", @"^http://w3id\.org/glosis/model/codelists/humanInfluenceClassValueCode-[A-Z]+$"),
        ("INSPIRE", @"^http://inspire\.ec\.europa\.eu/codelist/WRBReferenceSoilGroupValue/[a-z]+$"),
    ];

    // Words that nobody found a concept for.
    private static readonly string[] WithoutConcept =
        ["ecosystem/other", "land_use/other", "management/other", "treatment/control", "treatment/warmed", "treatment/rain-excluded",
        "treatment/limed", "treatment/mown", "treatment/other", "drying/oven", "drying/air", "drying/freeze", "drying/none"];

    [Fact]
    public void Every_word_has_a_concept_or_is_known_to_have_none() => Assert.Equal(
        WithoutConcept.Order(), Vocabulary.Lists.SelectMany(list => list.Words.Where(w => w.CloseMatches.Count == 0)
            .Select(w => $"{list.Name}/{w.Word}")).Order());

    [Theory, MemberData(nameof(Lists))]
    public void Every_address_has_the_form_of_its_vocabulary(string list)
    {
        foreach (OpenConcept concept in Vocabulary.Of(list).Words.SelectMany(w => w.CloseMatches))
        {
            if (concept.Scheme == "WRB")
                Assert.Null(concept.Iri);
            else
                Assert.Matches(Forms.Single(f => f.Scheme == concept.Scheme).Form, concept.Iri!.AbsoluteUri);
        }
    }

    // One concept may come close to two words of different lists (a garden is an ecosystem and a use), but not of one.
    [Theory, MemberData(nameof(Lists))]
    public void No_two_words_of_a_list_share_a_concept(string list)
    {
        string[] concepts = [.. Vocabulary.Of(list).Words.SelectMany(w => w.CloseMatches).Select(c => $"{c.Scheme} {c.Code}")];
        Assert.Equal(concepts.Distinct(), concepts);
    }

    [Theory, MemberData(nameof(Lists))]
    public void Every_word_finds_itself_in_any_spelling(string list)
    {
        foreach (OwnWord word in Vocabulary.Of(list).Words)
        {
            foreach (string spelling in word.OtherSpellings.Append(word.Word))
            {
                Assert.Same(word, Vocabulary.Of(list).Find(spelling));
                Assert.Same(word, Vocabulary.Of(list).Find(spelling.ToUpperInvariant().Replace('-', ' ')));
            }
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("-")]
    [InlineData("Wiese")]
    public void What_is_no_word_of_ours_is_found_nowhere(string text) =>
        Assert.All(Vocabulary.Lists, list => Assert.Null(list.Find(text)));

    // IUSS Working Group WRB 2022, World Reference Base for Soil Resources, 4th edition, chapter 4: the codes stand in the key.
    [Fact]
    public void The_soil_groups_are_the_32_of_the_World_Reference_Base_2022()
    {
        string[] codes = "AC AL AN AT AR CL CM CH CR DU FR FL GL GY HS KS LP LX LV NT PH PL PT PZ RG RT SC SN ST TC UM VR".Split(' ');

        Assert.Equal(
            codes.Order(), Vocabulary.Of("soil_group").Words.Select(w => w.CloseMatches.Single(c => c.Scheme == "WRB").Code).Order());
        Assert.All(codes, code => Assert.NotNull(Vocabulary.Of("soil_group").IriOf(code)));
        // as a national template for soil data lists AGROVOC's concepts of the groups
        Assert.Equal("http://aims.fao.org/aos/agrovoc/c_1224", Vocabulary.Of("soil_group").IriOf("Cambisol"));
    }

    // The Environment Ontology and AGROVOC, as cited by others than us.
    [Theory]
    [InlineData("ecosystem", "grassland", "http://purl.obolibrary.org/obo/ENVO_01001206")]
    [InlineData("ecosystem", "desert", "http://purl.obolibrary.org/obo/ENVO_01001780")]
    [InlineData("land_use", "pasture", "http://purl.obolibrary.org/obo/ENVO_00000266")]
    [InlineData("management", "organic", "http://aims.fao.org/aos/agrovoc/c_15911")]
    [InlineData("treatment", "irrigated", "http://aims.fao.org/aos/agrovoc/c_3954")]
    [InlineData("treatment", "Fertilized", "http://aims.fao.org/aos/agrovoc/c_10795")]
    public void Concepts_are_the_published_ones(string list, string word, string iri) => Assert.Equal(iri, Vocabulary.Of(list).IriOf(word));

    [Theory]
    [InlineData("sites", "ecosystem", true)]
    [InlineData("sites", "land_use", true)]
    [InlineData("sites", "management", true)]
    [InlineData("bags", "treatment", true)]
    [InlineData("bags", "drying", false)]
    public void A_field_of_the_schema_has_the_words_of_its_list_and_their_concepts(string table, string name, bool isOpen)
    {
        FieldSchema field = SchemaCatalogue.Tables.Single(t => t.Name == table).Fields.Single(f => f.Name == name);

        Assert.Equal(isOpen, field.IsOpen);
        Assert.Equal(Vocabulary.Of(name).Names, field.Choices);
        JsonNode stated = JsonNode.Parse(SchemaCatalogue.Text(table))!["fields"]!.AsArray().Single(f => (string)f!["name"]! == name)!;
        Assert.Equal(
            Vocabulary.Of(name).Words.Select(w => (w.Word, string.Join(' ', w.CloseMatches.Select(c => c.Iri!.AbsoluteUri)))),
            stated["vocabulary"]!["closeMatch"]!.AsObject()
                .Select(w => (w.Key, string.Join(' ', w.Value!.AsArray().Select(i => (string)i!)))));
    }

    [Fact]
    public void The_page_marks_what_is_from_memory_and_links_what_has_an_address()
    {
        string page = VocabularyPage.ToMarkdown();

        Assert.Contains(
            "| `grassland` | Grassland |  | [ENVO 01001206](http://purl.obolibrary.org/obo/ENVO_01001206), ", page, StringComparison.Ordinal);
        Assert.Contains("[AGROVOC c\\_3062](http://aims.fao.org/aos/agrovoc/c_3062) (from memory)", page, StringComparison.Ordinal);
        Assert.Contains("| `cambisols` | Cambisols | cm, cambisol | WRB CM, [AGROVOC c\\_1224]", page, StringComparison.Ordinal);
    }
}
