namespace DecayAtlas.EndToEnd;

/// <summary>
/// Pages made from code. Where one is stale, <c>DECAYATLAS_REWRITE=1 dotnet test --project tests/DecayAtlas.EndToEnd</c> writes it anew.
/// </summary>
public class GeneratedPages
{
    [Fact]
    public void The_data_dictionary_is_fresh() => ExpectFresh("docs/data-dictionary.md", DataDictionary.ToMarkdown());

    [Fact]
    public void The_flag_pages_are_fresh() => ExpectFresh("docs/flags.md", FlagPages.ToMarkdown());

    [Fact]
    public void The_settings_are_fresh() => ExpectFresh("docs/settings.md", ConfigurationSettings.ToMarkdown());

    [Fact]
    public void The_schema_of_the_configuration_has_every_setting_as_it_is_declared() =>
        ExpectFresh("schemas/pipeline-v1.schema.json", ConfigurationSettings.ToSchema());

    [Theory]
    [InlineData("sites")]
    [InlineData("bags")]
    public void The_fields_of_the_schema_carry_the_concepts_of_their_words(string table) =>
        ExpectFresh($"schemas/v1/{table}.json", SchemaConcepts.Of(File.ReadAllText(Project.PathOf($"schemas/v1/{table}.json"))));

    private static void ExpectFresh(string page, string text)
    {
        string path = Project.PathOf(page);
        if (Environment.GetEnvironmentVariable("DECAYATLAS_REWRITE") == "1")
            File.WriteAllText(path, text);
        Assert.True(File.Exists(path), $"{page} is missing");
        Assert.Equal(text, File.ReadAllText(path).ReplaceLineEndings("\n"));
    }
}
