namespace DecayAtlas.Pages.Site;

/// <summary>One page in one language, and the way from it to everything else: all links are relative, so that the site lies
/// anywhere.</summary>
/// <param name="Path">Path within the language, as <c>map.html</c> or <c>contributions/x.html</c>.</param>
/// <param name="Languages">All languages of the site, the front one first.</param>
/// <param name="Title">Title of the site.</param>
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
    public string ToSite(string siteKey) => To(MapPage.Path) + "#site=" + Uri.EscapeDataString(siteKey);

    private string FileIn(Language language) => FolderOf(language) + Path;

    private string FolderOf(Language language) => language.Code == Languages[0].Code ? "" : language.Code + "/";
}

/// <summary>What stands round every page: head, ways through the site, foot.</summary>
internal static class Frame
{
    private static readonly (string Path, string Text)[] Ways =
    [
        (OverviewPage.Path, "nav.overview"), (MapPage.Path, "nav.map"), (ContributionsPage.Path, "nav.contributions"),
        (AnswersPage.Path, "nav.answers"), (QualityPage.Path, "nav.quality"), (ModelKind.Rate.Path, "nav.model"),
        (DataPage.Path, "nav.data"),
    ];

    /// <param name="kind">A class for the body, so that a page can have a look of its own.</param>
    /// <param name="scripts">Scripts of the page, from the folder of the pages.</param>
    /// <param name="styles">Style sheets beside the common one, which go before it.</param>
    /// <param name="policy">Where it is another than that of pages.</param>
    public static string Document(Page page, string title, Markup body, string kind = "text", IReadOnlyList<string>? scripts = null,
        IReadOnlyList<string>? styles = null, string policy = PagePolicy.Text)
    {
        Language words = page.Words;
        IEnumerable<Markup> sheets = (styles ?? []).Select(s => Markup.Of($"<link rel=\"stylesheet\" href=\"{page.Root}{s}\">\n"));
        IEnumerable<Markup> ways = Ways.Select(w => Markup.Of(
            $"<li><a href=\"{page.To(w.Path)}\"{Markup.If(w.Path == page.Path, $" aria-current=\"page\"")}>{words[w.Text]}</a></li>"));
        IEnumerable<Markup> languages = page.Languages.Where(l => l.Code != words.Code)
            .Select(l => Markup.Of($"<a lang=\"{l.Code}\" hreflang=\"{l.Code}\" href=\"{page.In(l)}\">{l.Name}</a>"));
        return Markup.Of(
            $"""
            {PageHead.Of(words.Code, policy, $"{title} – {page.Title}", page.Root + "assets/mark.svg", Markup.Of(
                $"""
                {sheets}<link rel="stylesheet" href="{page.Root}assets/pages.css">
                <script src="{page.Root}assets/light.js"></script>
                """))}
            <body class="{kind}">
            <a class="skip" href="#main">{words["nav.skip"]}</a>
            <header class="top">
            <a class="brand" href="{page.To(OverviewPage.Path)}"><img src="{page.Root}assets/mark.svg" alt="" width="30" height="30"
              ><span>{page.Title}</span></a>
            <nav aria-label="{words["nav.name"]}"><ul>{ways}</ul></nav>
            <div class="tools">{languages}<button type="button" id="light" aria-pressed="false" title="{words["nav.light"]}"
              ><span class="sun" aria-hidden="true"></span><span class="unseen">{words["nav.light"]}</span></button></div>
            </header>
            <main id="main" tabindex="-1">
            {body}
            </main>
            <footer class="foot">
            <p>{words.Say("foot.release", page.ReleaseId)} <a href="{page.To(DataPage.Path)}#cite">{words["foot.cite"]}</a></p>
            <p>{words["foot.caution"]}</p>
            <p>{words["foot.made"]} <a href="{page.Root}assets/LICENCES.txt">{words["foot.licences"]}</a></p>
            </footer>
            {(scripts ?? []).Select(s => Markup.Of($"<script defer src=\"{page.Root}{s}\"></script>\n"))}</body>
            </html>

            """).ToString();
    }

    /// <summary>A table that scrolls by itself where it is wider than the page; the first cell of a row names it. One of the kind
    /// <c>labelled</c> is a card a row on a narrow screen, each value below the head of its column.</summary>
    public static Markup Table<T>(string name, IReadOnlyList<Markup> head, IEnumerable<T> items, Func<T, IReadOnlyList<Markup>> rowOf,
        string kind = "")
    {
        Markup[] labels = [.. kind.Split(' ').Contains("labelled") ? head.Select(h => Markup.Of($" data-name=\"{h.Plain}\""))
            : head.Select(_ => Markup.None)];
        IEnumerable<Markup> rows = items.Select(rowOf).Select(row => Markup.Of(
            $"<tr><th scope=\"row\">{row[0]}</th>{row.Skip(1).Select((cell, i) => Markup.Of($"<td{labels[i + 1]}>{cell}</td>"))}</tr>\n"));
        return Markup.Of(
            $"""
            <div class="scroll" tabindex="0" role="region" aria-label="{name}"><table class="{kind}"><thead><tr>{head.Select(
                h => Markup.Of($"<th scope=\"col\">{h}</th>"))}</tr></thead>
            <tbody>
            {rows}</tbody></table></div>

            """);
    }

    public static Markup List(IEnumerable<Markup> items) => Markup.Of($"<ul>{items.Select(i => Markup.Of($"<li>{i}</li>"))}</ul>");

    /// <summary>That a list has more than is shown.</summary>
    public static Markup More(int left, Language words) =>
        Markup.If(left > 0, $"<p class=\"nothing\">{words.Say("overview.more", left)}</p>");
}
