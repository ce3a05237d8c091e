using DecayAtlas.Pages.Html;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

internal static class AnswersSection
{
    public static Markup Write(Language words, ReleaseData data) => Markup.None;
}
