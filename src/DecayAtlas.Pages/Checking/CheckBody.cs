namespace DecayAtlas.Pages.Checking;

/// <summary>What stands in the page of the check before a file is dropped; the rest is written by its script.</summary>
internal static class CheckBody
{
    public const string Path = PagePolicy.PageWithProgram, Style = "assets/check.css";

    /// <summary>Assets of the check, which pages without it do not carry.</summary>
    public static bool IsAsset(string name) => name.StartsWith("assets/check", StringComparison.Ordinal);

    /// <summary>The way to it from other pages; nothing where it is not there.</summary>
    public static Markup Door(string address, Language words) =>
        Markup.If(CheckProgram.IsThere, $"<a class=\"door\" href=\"{address}\">{words["drop.title"]}</a>");

    public static Markup Of(Language words)
    {
        return Markup.Of(
            $"""
            {Said("h1", "drop.title", "")}{Said("p", "drop.lead", "lead")}{Said("p", "drop.private", "hint private")}
            <noscript>{Said("p", "drop.no-script", "hint warn")}</noscript>
            <div id="drop" class="drop">{Said("p", "drop.zone", "")}
            <p class="doors">{Door("drop.choose", "door", Markup.Of($"<input type=\"file\" id=\"files\" multiple>"))} {Door(
                "drop.choose-folder", "door quiet", Markup.Of($"<input type=\"file\" id=\"folder\" webkitdirectory>"))} {Door(
                "drop.choose-campaign", "door quiet", Markup.Of($"<input type=\"file\" id=\"campaign\" accept=\".yaml,.yml\">"))}</p>
            <p id="campaign-name" hidden></p>{Said("p", "drop.next-time", "small-print")}</div>
            <p id="state" role="status" aria-live="polite"></p>
            <section id="asked" hidden></section>
            <section id="answer" hidden></section>

            """);

        // the one file for every language says its texts anew by their keys
        Markup Said(string element, string key, string kind)
        {
            Markup name = Markup.Trusted(element), style = Markup.If(kind.Length > 0, $" class=\"{kind}\"");
            return Markup.Of($"<{name}{style} data-say=\"{key}\">{words[key]}</{name}>");
        }

        Markup Door(string key, string kind, Markup input) =>
            Markup.Of($"<label class=\"{kind}\"><span data-say=\"{key}\">{words[key]}</span>{input}</label>");
    }
}
