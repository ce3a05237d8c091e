using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>What a flag means and what can be done, in the language of the page where it has words for it, else in English and marked so.</summary>
internal static class FlagWords
{
    public static Markup Meaning(FlagMeaning? flag, Language words) => flag is null ? Markup.None : Say(words.FindText($"flag.{flag.Code}"), flag.Meaning);

    public static Markup Mend(FlagMeaning? flag, Language words) => flag is null ? Markup.None : Say(words.FindText($"flag.{flag.Code}.mend"), flag.Mend);

    private static Markup Say(string? own, string english) => own is null ? Markup.Of($"<span lang=\"en\">{english}</span>") : Markup.Of($"{own}");
}
