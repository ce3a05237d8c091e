namespace DecayAtlas.Pages.Site;

/// <summary>One page in one language, and the way from it to everything else: all links are relative, so that the site lies
/// anywhere.</summary>
/// <param name="Path">Path within the language, as <c>map.html</c> or <c>contributions/x.html</c>.</param>
/// <param name="Words">The language.</param>
/// <param name="Languages">All languages of the site, the front one first.</param>
/// <param name="Title">Title of the site.</param>
/// <param name="ReleaseId">The release it belongs to.</param>
internal sealed record Page(string Path, Language Words, IReadOnlyList<Language> Languages, string Title, string ReleaseId)
{
    /// <summary>Where the page is written, from the folder of the pages.</summary>
    public string File => FileIn(Words);

    /// <summary>The way to the folder of the pages.</summary>
    public string Root => string.Concat(Enumerable.Repeat("../", File.Count(c => c == '/')));

    /// <summary>The way to the release's own files.</summary>
    public string Release => Root + "../";

    /// <summary>The way to a page of the same language.</summary>
    public string To(string path) => Root + FolderOf(Words) + path;

    /// <summary>The way to this page in another language.</summary>
    public string In(Language other) => Root + FileIn(other);

    /// <summary>The map, with one site open.</summary>
    public string ToSite(string siteKey) => To("map.html") + "#site=" + Uri.EscapeDataString(siteKey);

    private string FileIn(Language language) => FolderOf(language) + Path;

    private string FolderOf(Language language) => language.Code == Languages[0].Code ? "" : language.Code + "/";
}

/// <summary>What stands round every page: head, ways through the site, foot.</summary>
internal static class Frame
{
    private static readonly (string Path, string Text)[] Ways =
    [
        ("index.html", "nav.overview"), ("map.html", "nav.map"), ("contributions/index.html", "nav.contributions"),
        ("quality.html", "nav.quality"), ("model.html", "nav.model"), ("data.html", "nav.data"),
    ];

    /// <summary>The whole document.</summary>
    /// <param name="title">Title of the page.</param>
    /// <param name="body">What stands in its main part.</param>
    /// <param name="kind">A class for the body, so that a page can have a look of its own.</param>
    /// <param name="scripts">Scripts of the page, from the folder of the pages.</param>
    /// <param name="styles">Style sheets beside the common one.</param>
    public static string Document(Page page, string title, Markup body, string kind = "text", IReadOnlyList<string>? scripts = null,
        IReadOnlyList<string>? styles = null)
    {
        Language words = page.Words;
        Markup sheets = Markup.Join((styles ?? []).Select(s => Markup.Of($"<link rel=\"stylesheet\" href=\"{page.Root}{s}\">\n")));
        Markup ways = Markup.Join(Ways.Select(w =>
        {
            Markup here = w.Path == page.Path ? Markup.Trusted(" aria-current=\"page\"") : Markup.None;
            return Markup.Of($"<li><a href=\"{page.To(w.Path)}\"{here}>{words[w.Text]}</a></li>");
        }));
        Markup languages = Markup.Join(page.Languages.Where(l => l.Code != words.Code)
            .Select(l => Markup.Of($"<a lang=\"{l.Code}\" hreflang=\"{l.Code}\" href=\"{page.In(l)}\">{l.Name}</a>")));
        return Markup.Of(
            $"""
            <!DOCTYPE html>
            <html lang="{words.Code}">
            <head>
            <meta charset="utf-8">
            <meta http-equiv="Content-Security-Policy" content="{Markup.Trusted(PagePolicy.Text)}">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <title>{title} – {page.Title}</title>
            <link rel="icon" href="{page.Root}assets/mark.svg">
            {sheets}<link rel="stylesheet" href="{page.Root}assets/pages.css">
            <script src="{page.Root}assets/light.js"></script>
            </head>
            <body class="{kind}">
            <a class="skip" href="#main">{words["nav.skip"]}</a>
            <header class="top">
            <a class="brand" href="{page.To("index.html")}"><img src="{page.Root}assets/mark.svg" alt="" width="30" height="30"
              ><span>{page.Title}</span></a>
            <nav aria-label="{words["nav.name"]}"><ul>{ways}</ul></nav>
            <div class="tools">{languages}<button type="button" id="light" aria-pressed="false" title="{words["nav.light"]}"
              ><span class="sun" aria-hidden="true"></span><span class="unseen">{words["nav.light"]}</span></button></div>
            </header>
            <main id="main" tabindex="-1">
            {body}
            </main>
            <footer class="foot">
            <p>{words.Say("foot.release", page.ReleaseId)} <a href="{page.To("data.html")}#cite">{words["foot.cite"]}</a></p>
            <p>{words["foot.caution"]}</p>
            <p>{words["foot.made"]} <a href="{page.Root}assets/LICENCES.txt">{words["foot.licences"]}</a></p>
            </footer>
            {(scripts ?? []).Select(s => Markup.Of($"<script defer src=\"{page.Root}{s}\"></script>\n"))}</body>
            </html>

            """).ToString();
    }

    /// <summary>A table that scrolls by itself where it is wider than the page; the first cell of a row names it.</summary>
    public static Markup Table(IReadOnlyList<Markup> head, IEnumerable<IReadOnlyList<Markup>> rows, string name, string kind = "") =>
        Markup.Of(
        $"""
        <div class="scroll" tabindex="0" role="region" aria-label="{name}"><table class="{kind}"><thead><tr>{head.Select(h =>
            Markup.Of($"<th scope=\"col\">{h}</th>"))}</tr></thead>
        <tbody>
        {rows.Select(r =>
            Markup.Of($"<tr>{r.Select(
                (c, i) => i == 0 ? Markup.Of($"<th scope=\"row\">{c}</th>") : Markup.Of($"<td>{c}</td>"))}</tr>\n"))}</tbody></table></div>

        """);
}
