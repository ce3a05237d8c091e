using System.Text.Json.Nodes;

namespace DecayAtlas.Text.Tests;

public sealed class YamlDocumentTests
{
    [Fact]
    public void Aliases_that_multiply_and_deep_nesting_are_stopped()
    {
        using TestFolder folder = new();
        string laughs = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
            + string.Concat(Enumerable.Range(1, 9)
                .Select(i => $"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 10))}]\n"));
        Assert.Throws<YamlDocumentException>(() => YamlDocument.Open(folder.Write("a.yaml", laughs), "{}"));
        Assert.Throws<YamlDocumentException>(() => YamlDocument.Open(folder.Write("b.yaml", new string('[', 200_000)), "{}"));
    }

    [Theory]
    [InlineData("? [a]\n: 1\n", 1)]
    [InlineData("a: 1\n? { b: c }\n: 1\n", 2)]
    [InlineData("a: &a [1]\nb:\n  - c\n  - ? *a\n    : 1\n", 4)]
    public void A_key_that_is_no_plain_text_is_refused_before_keys_are_compared(string yaml, int line)
    {
        using TestFolder folder = new();
        YamlDocumentException fault = Assert.Throws<YamlDocumentException>(() => YamlDocument.Open(folder.Write("a.yaml", yaml), "{}"));
        Assert.Equal((line, "found a key that is not plain text."), ((int)fault.Line!, fault.Sentence));
    }

    [Fact]
    public void A_key_made_of_aliases_in_aliases_is_refused_and_not_gone_through()
    {
        // comparing the key of forty doublings would take 2^40 steps
        using TestFolder folder = new();
        string doubled = "a0: &a0 [x]\n" + string.Concat(Enumerable.Range(1, 40).Select(i => $"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]\n"));
        Assert.Throws<YamlDocumentException>(() => YamlDocument.Open(folder.Write("a.yaml", doubled + "b: { ? *a40 : 1 }\n"), "{}"));
    }

    [Fact]
    public void A_text_or_key_that_is_too_long_is_told_by_its_length()
    {
        using TestFolder folder = new();
        Assert.Contains(":2: found a text of 100001 letters", Assert.Throws<YamlDocumentException>(() =>
            YamlDocument.Open(folder.Write("a.yaml", $"a: 1\nb: {new string('x', YamlDocument.MaxText + 1)}\n"), "{}")).Message,
            StringComparison.Ordinal);
        Assert.Contains(":2: found a key of 2001 letters", Assert.Throws<YamlDocumentException>(() =>
            YamlDocument.Open(folder.Write("b.yaml", $"a: 1\n? {new string('x', YamlDocument.MaxKey + 1)}\n: 1\n"), "{}")).Message,
            StringComparison.Ordinal);
        Assert.NotNull(
            YamlDocument.Open(folder.Write("c.yaml", $"{new string('k', 1000)}: {new string('x', YamlDocument.MaxText)}\n"), "{}"));
    }

    [Fact]
    public void A_long_key_above_very_many_values_is_refused()
    {
        using TestFolder folder = new();
        string yaml = $"? {new string('k', YamlDocument.MaxKey)}\n: [{string.Join(", ", Enumerable.Repeat("1", 100_000))}]\n";
        Assert.Contains("long keys above so many values",
            Assert.Throws<YamlDocumentException>(() => YamlDocument.Open(folder.Write("a.yaml", yaml), "{}")).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Scalars_follow_the_core_schema_of_YAML_1_2()
    {
        // YAML 1.2.2, section 10.3: plain "no" is text, quoted numbers are text, 1e3 is a number.
        using TestFolder folder = new();
        JsonNode node = YamlDocument.Open(
            folder.Write("a.yaml", "a: no\nb: '12'\nc: 1e3\nd: ~\ne: true\nf: 2026-05-01\ng: -7\nh: 1.2.3\ni: 007x\n"), "{}").Root;
        Assert.Equal(
            """{"a":"no","b":"12","c":1000,"d":null,"e":true,"f":"2026-05-01","g":-7,"h":"1.2.3","i":"007x"}""", node.ToJsonString());
    }

    [Fact]
    public void The_value_at_a_place_has_its_line()
    {
        using TestFolder folder = new();
        YamlDocument document = YamlDocument.Open(folder.Write("a.yaml", "a:\n  b/c:\n    - 1\n    - 2\n"), "{}");
        Assert.Equal((1, 2, 4), (document.LineOf("/a"), document.LineOf("/a/b~1c"), document.LineOf("/a/b~1c/1")));
    }
}
