using System.Text;
using System.Text.Json.Nodes;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests;

public class SchemaTests
{
    [Fact]
    public void Every_column_has_a_title_a_description_and_an_example_that_passes_its_own_rules()
    {
        foreach (FieldSchema field in SchemaCatalogue.Tables.SelectMany(table => table.Fields))
        {
            Cell cell = default;
            Assert.NotEmpty(field.Title);
            Assert.EndsWith(".", field.Description, StringComparison.Ordinal);
            Assert.Null(CellCheck.Read(field, field.Example, ref cell));
        }
    }

    [Fact]
    public void Every_number_states_its_unit()
    {
        Assert.All(SchemaCatalogue.Tables.SelectMany(table => table.Fields)
            .Where(field => field.Type == FieldType.Number), field => Assert.NotNull(field.Unit));
    }

    [Fact]
    public void A_table_comes_after_every_table_it_refers_to()
    {
        HashSet<string> before = [];
        foreach (TableSchema table in SchemaCatalogue.Tables)
        {
            Assert.All(table.ForeignKeys, key => Assert.Contains(key.ReferencedTable, before));
            before.Add(table.Name);
        }
    }

    [Fact]
    public void The_example_files_have_the_columns_of_the_schema_in_its_order()
    {
        Assert.All(SchemaCatalogue.Tables, table => Assert.Equal(
            string.Join(',', table.ColumnNames), File.ReadLines(Path.Combine(
                table == SchemaCatalogue.Results ? Example.OfResults : Example.Folder, table.Name + ".csv")).First()));
    }

    [Fact]
    public void A_mapping_may_name_every_column_of_the_schema()
    {
        JsonNode parts = JsonNode.Parse(MappingReader.Schema)!["$defs"]!;

        Assert.All(SchemaCatalogue.Tables,
            table => Assert.Equal(table.ColumnNames, parts[table.Name]!["properties"]!.AsObject().Select(field => field.Key)));
        Assert.Equal(SchemaCatalogue.Lots.ColumnNames, parts["lots_mapped"]!["properties"]!.AsObject().Select(field => field.Key));
        Assert.Equal(SchemaCatalogue.Lots.ColumnNames, parts["lots"]!["items"]!["properties"]!.AsObject().Select(field => field.Key));
    }

    [Fact]
    public void Terms_of_open_standards_are_the_published_ones()
    {
        // Darwin Core quick reference guide, https://dwc.tdwg.org/terms/ (names from memory).
        string[] published = ["locationID", "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "countryCode",
            "habitat",
            "locationRemarks", "locality", "materialSampleID", "eventID", "eventRemarks", "associatedSequences"];
        IEnumerable<Uri> used = SchemaCatalogue.Tables.SelectMany(table => table.Fields).Select(field => field.RdfType).OfType<Uri>();

        // MIxS, samp_name, target_gene and target_subfragment: read in renderings of its releases 6 and 6.2; ids outlive releases.
        string[] mixs = ["0001107", "0000044", "0000045"];

        Assert.All(used, term => Assert.Contains(term.ToString(), published.Select(name => "http://rs.tdwg.org/dwc/terms/" + name)
            .Concat(mixs.Select(id => "https://w3id.org/mixs/" + id))));
    }

    [Fact]
    public void The_data_dictionary_has_a_row_for_every_column()
    {
        string markdown = SchemaDictionary.ToMarkdown();

        Assert.All(
            SchemaCatalogue.Tables, table => Assert.Contains($"### {table.Title} (`{table.Name}`)", markdown, StringComparison.Ordinal));
        Assert.All(
            SchemaCatalogue.Tables
                .SelectMany(table => table.ColumnNames), name => Assert.Contains($"| `{name}` |", markdown, StringComparison.Ordinal));
        Assert.Contains("| `mass_initial_g` | number | g |  | 0.001 to 10000 |", markdown, StringComparison.Ordinal);
        Assert.Contains("[decimalLatitude](http://rs.tdwg.org/dwc/terms/decimalLatitude)", markdown, StringComparison.Ordinal);
    }

    [Property(MaxTest = 200)]
    public Property Any_text_survives_writing_and_reading() =>
        Prop.ForAll(ArbMap.Default.ArbFor<string?>().Filter(IsText), ArbMap.Default.ArbFor<string?>().Filter(IsText), (first, second) =>
        {
            using Example example = new();
            using (TableWriter writer = TableWriter.Create(example.FileAt("sites.csv"), SchemaCatalogue.Sites))
            {
                writer.WriteRow("meadow-1", "1", "2", null, null, null, null, null, null, first, null, second, null);
                writer.WriteRow("wood-1", "1", "2", null, null, null, null, null, null, second, null, first, null);
            }
            Contribution? contribution = example.Read().Contribution;
            return contribution is not null
                && contribution.Sites.Select(site => (site.ManagementNote ?? "", site.Notes ?? ""))
                    .SequenceEqual([(first ?? "", second ?? ""), (second ?? "", first ?? "")]);
        });

    /// <summary>What a CSV file in UTF-8 can hold: whole characters, and no NUL, which marks binary data; and nobody's address, which is
    /// refused.</summary>
    private static bool IsText(string? text) =>
        text is null
        || (!ReceivedText.HasEmail(text) && !text.Contains('\0', StringComparison.Ordinal)
            && text == Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)));

    [Theory]
    [InlineData("a,b")]
    [InlineData("say \"yes\"")]
    [InlineData("two\nlines")]
    [InlineData("two\r\nlines")]
    [InlineData("\"")]
    [InlineData("  spaces at both ends ")]
    [InlineData("Grünland, 草地, 🌱")]
    [InlineData("=1+1;\t'")]
    public void Awkward_texts_survive_writing_and_reading(string text)
    {
        using Example example = new();
        using (TableWriter writer = TableWriter.Create(example.FileAt("sites.csv"), SchemaCatalogue.Sites))
        {
            writer.WriteRow("meadow-1", "1", "2", null, null, null, null, null, null, text, null, text, null);
            writer.WriteRow("wood-1", "1", "2", null, null, null, null, null, null, null, null, null, null);
        }

        ReadResult result = example.Read();

        Assert.Empty(result.Findings);
        Assert.Equal((text, text), (result.Contribution!.Sites[0].ManagementNote, result.Contribution.Sites[0].Notes));
        Assert.Null(result.Contribution.Sites[1].Notes);
    }
}
