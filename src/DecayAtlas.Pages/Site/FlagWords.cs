using DecayAtlas.Atlas.Tables;
using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>What a flag means and what can be done, in the language of the page where it has words for it, else in English and marked so.</summary>
internal static class FlagWords
{
    public static Markup Meaning(FlagMeaning? flag, Language words) => flag is null ? Markup.None : Say(words.FindText($"flag.{flag.Code}"), flag.Meaning);

    public static Markup Mend(FlagMeaning? flag, Language words) => flag is null ? Markup.None : Say(words.FindText($"flag.{flag.Code}.mend"), flag.Mend);

    /// <summary>
    /// One finding: its own sentence, which is English; on pages of another language its numbers, beside which the meaning stands, and
    /// the English sentence only where it has none.
    /// </summary>
    public static Markup Finding(ReleasedFlag flag, Language words) =>
        !words.IsTranslation ? Markup.Of($"{flag.Explanation}")
        : flag.Measured is null ? Markup.Of($"<span lang=\"en\">{flag.Explanation}</span>")
        : Markup.Of($"{words.Say("said.measured", words.Number(flag.Measured), words.Unit(flag.Unit)).Trim()}{(flag.Limit is null ? "" : ", " + words.Say("said.limit", words.Number(flag.Limit), words.Unit(flag.Unit)).Trim())}");

    /// <summary>What was expected where a contribution has to be mended, and what to do: in the language of the page, with the English words that name the place.</summary>
    public static Markup Expected(ToMend mend, Language words) => Both(Own(words, mend.Expected, "finding." + mend.Code), mend.Expected);

    /// <inheritdoc cref="Expected"/>
    public static Markup ToDo(ToMend mend, Language words) => Both(Own(words, mend.Mend, $"finding.{mend.Code}.mend"), mend.Mend);

    // where the code's own words would tell what was found, there are none, and every language has others
    private static string? Own(Language words, string english, string key) => words.IsTranslation || english.Length == 0 ? words.FindText(key) ?? (english.Length == 0 ? words["waiting.correct"] : null) : null;

    private static Markup Both(string? own, string english) => own is null ? Markup.Of($"<span lang=\"en\">{english}</span>") : english.Length == 0 ? Markup.Of($"{own}") : Markup.Of($"{own} <span lang=\"en\" class=\"nothing\">({english})</span>");

    private static Markup Say(string? own, string english) => own is null ? Markup.Of($"<span lang=\"en\">{english}</span>") : Markup.Of($"{own}");
}
