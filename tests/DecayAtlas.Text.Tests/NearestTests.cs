namespace DecayAtlas.Text.Tests;

public sealed class NearestTests
{
    // the edits that spelling checkers count as one (Damerau 1964, from memory: one letter more, less or other, or two that changed places)
    [Theory]
    [InlineData("ratio", "raito")]
    [InlineData("check", "chekc")]
    [InlineData("dry-run", "dryrun")]
    [InlineData("languages", "langauges")]
    [InlineData("reminder_days", "reminder_day")]
    [InlineData("atlas", "atlus")]
    public void One_slip_of_a_finger_is_close(string meant, string typed) =>
        Assert.Equal(meant, Nearest.Of(typed, ["other", meant, "somewhere"]));

    [Theory]
    [InlineData("country", "country_code")]
    [InlineData("litter", null)]
    [InlineData("dr", null)]
    public void The_first_words_of_one_name_alone_stand_for_it(string typed, string? meant) =>
        Assert.Equal(meant, Nearest.Of(typed, ["country_code", "litter_mass_g", "litter_role", "drying_initial"]));

    [Theory]
    [InlineData("inbox")]
    [InlineData("")]
    public void What_is_like_nothing_is_close_to_nothing(string typed)
    {
        Assert.Null(Nearest.Of(typed, ["atlas", "pages", "train"]));
        Assert.Equal("", Nearest.Question(typed, ["atlas", "pages", "train"]));
    }

    [Fact]
    public void A_key_that_a_schema_does_not_know_and_a_word_that_it_does_not_take_are_told_with_what_was_meant()
    {
        const string schema = """
            { "type": "object", "additionalProperties": false, "properties": {
                "languages": { "type": "string", "description": "a text" },
                "below": { "type": "object", "additionalProperties": false, "properties": { "kind": { "enum": ["decay_rate", "stabilisation"],
                    "description": "decay_rate or stabilisation" } } },
                "list": { "type": "array", "items": { "type": "object", "additionalProperties": false,
                    "properties": { "title": { "type": "string", "description": "a text" } } } } } }
            """;

        Assert.EndsWith(":2: langauges is not a key of this format; did you mean languages?", Refusal("below: {}\nlangauges: en\n"),
            StringComparison.Ordinal);
        Assert.Contains("list.0.titel is not a key of this format; did you mean title?", Refusal("list:\n  - { titel: a }\n"),
            StringComparison.Ordinal);
        Assert.Contains("found \"decay_rat\"; expected: decay_rate or stabilisation. Did you mean decay_rate?",
            Refusal("below: { kind: decay_rat }\n"), StringComparison.Ordinal);
        Assert.EndsWith("colour is not a key of this format; take it out or correct its spelling.", Refusal("colour: red\n"),
            StringComparison.Ordinal);

        Assert.Contains("is not a key of this format", Refusal("colour: { red: { green: blue } }\n"), StringComparison.Ordinal);

        static string Refusal(string yaml) => Assert.Throws<YamlDocumentException>(() => YamlDocument.Parse("p.yaml",
            () => new MemoryStream(System.Text.Encoding.UTF8.GetBytes(yaml))).Validate(schema)).Message;
    }
}
