using System.Text.Json.Nodes;

namespace DecayAtlas.Text.Tests;

public sealed class YamlDocumentTests
{
    [Fact]
    public void Aliases_that_multiply_and_deep_nesting_are_stopped()
    {
        using TestFolder folder = new();
        string laughs = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
            + string.Concat(Enumerable.Range(1, 9).Select(i => $"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 10))}]\n"));
        Assert.Throws<YamlDocumentException>(() => YamlDocument.Load(folder.Write("a.yaml", laughs), "{}"));
        Assert.Throws<YamlDocumentException>(() => YamlDocument.Load(folder.Write("b.yaml", new string('[', 200_000)), "{}"));
    }

    [Fact]
    public void Scalars_follow_the_core_schema_of_YAML_1_2()
    {
        // YAML 1.2.2, section 10.3: plain "no" is text, quoted numbers are text, 1e3 is a number.
        using TestFolder folder = new();
        JsonNode node = YamlDocument.Load(
            folder.Write("a.yaml", "a: no\nb: '12'\nc: 1e3\nd: ~\ne: true\nf: 2026-05-01\ng: -7\nh: 1.2.3\ni: 007x\n"), "{}");
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
