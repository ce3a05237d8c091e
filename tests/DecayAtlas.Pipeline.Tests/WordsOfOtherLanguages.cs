namespace DecayAtlas.Pipeline.Tests;

/// <summary>What the code says in English, the pages say in each other language too.</summary>
public class WordsOfOtherLanguages
{
    public static TheoryData<string> Others => new(Language.Known.Where(code => code != "en"));

    [Theory, MemberData(nameof(Others))]
    public void Every_flag_is_explained(string language)
    {
        Language words = Language.Find(language)!;
        Assert.All(
            FlagCatalogue.All
                .SelectMany(f => new[] { $"flag.{f.Code}", $"flag.{f.Code}.mend" }),
                    key => Assert.False(string.IsNullOrWhiteSpace(words.FindText(key)), key));
        Assert.All(FlagCatalogue.All.Select(f => f.Family)
            .Distinct(), family => Assert.NotNull(words.FindText("word." + AtlasCode.Of(family))));
    }

    public static TheoryData<string> Every => new(Language.Known);

    [Theory, MemberData(nameof(Every))]
    public void Every_finding_that_sends_a_contribution_back_is_explained(string language)
    {
        Language words = Language.Find(language)!;
        Assert.Contains("value-missing", FindingCode.All);
        Assert.All(
            FindingCode.All
                .SelectMany(code => new[] { $"finding.{code}", $"finding.{code}.mend" }),
                    key => Assert.False(string.IsNullOrWhiteSpace(words.FindText(key)), key));
    }

    [Theory, MemberData(nameof(Others))]
    public void Every_word_that_a_sender_may_choose_from_a_list_is_translated(string language)
    {
        Language words = Language.Find(language)!;
        string[] choices = [.. new[] { Vocabulary.Ecosystem, Vocabulary.LandUse, Vocabulary.Management, Vocabulary.Treatment }
            .SelectMany(list => list.Names)];
        Assert.Contains("heathland", choices);
        Assert.All(choices, choice => Assert.NotNull(words.FindText("word." + choice)));
    }
}
