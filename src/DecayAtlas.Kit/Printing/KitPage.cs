namespace DecayAtlas.Kit.Printing;

/// <summary>One page of a kit: its file, its name in the words, what stands on it.</summary>
internal sealed record KitPage(string Name, Func<GroupKit, Markup> Body)
{
    /// <summary>In the order in which a group needs them.</summary>
    public static IReadOnlyList<KitPage> All { get; } =
    [
        new("start", StartPage.Of), new("cautions", CautionsPage.Of), new("experiment", ExperimentSheet.Of),
        new("weighing", WeighingSheet.Of), new("labels", LabelsPage.Of), new("burial", FieldSheets.Burial),
        new("digging", FieldSheets.Digging),
    ];

    public string File => Name + ".html";

    public string TitleIn(Phrases words) => words[$"kit.page.{Name}"];

    public string Write(GroupKit kit)
    {
        Phrases words = kit.Words;
        IEnumerable<Markup> ways = All.Select(page => Markup.Of(
            $"<li><a href=\"{page.File}\"{Markup.If(page == this, $" aria-current=\"page\"")}>{page.TitleIn(words)}</a></li>"));
        return Markup.Of(
            $"""
            {PageHead.Of(words.Code, PagePolicy.Text, $"{TitleIn(words)} – {kit.Title}", "mark.svg",
                Markup.Of($"<link rel=\"stylesheet\" href=\"{KitStyle.FileName}\">"))}
            <body class="kit {Name}">
            <header class="top">
            <a class="brand" href="start.html"><img src="mark.svg" alt="" width="30" height="30"><span>{kit.Title}</span></a>
            <nav aria-label="{words["kit.page.start"]}"><ul>{ways}</ul></nav>
            </header>
            <main id="main">
            <p class="over">{kit.GroupTitle}</p>
            <h1>{TitleIn(words)}</h1>
            {Body(kit)}
            <p class="kit-foot">{words.Say("kit.foot", kit.Campaign.Id, kit.Group.Id)}</p>
            </main>
            </body>
            </html>

            """).ToString();
    }

    /// <summary>Lines to write on.</summary>
    public static Markup Lines(int count) =>
        Markup.Of($"<div class=\"write-lines\">{Enumerable.Repeat(Markup.Of($"<span></span>"), count)}</div>");

    /// <summary>A box to tick.</summary>
    public static Markup Tick(string? what = null) => Markup.Of($"<span class=\"tick\"><span class=\"box\"></span>{what}</span>");

    public static Markup Steps(IEnumerable<string> steps) =>
        Markup.Of($"<ol class=\"steps\">{steps.Select(step => Markup.Of($"<li>{step}</li>"))}</ol>");

    /// <summary>A table to write into; its first cells stand in it already.</summary>
    /// <param name="name">For those who do not see it.</param>
    public static Markup Table(string kind, string name, IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<Markup>> rows)
    {
        IEnumerable<Markup> written = rows.Select(row => Markup.Of(
            $"<tr><th scope=\"row\">{row[0]}</th>{row.Skip(1).Select(cell => Markup.Of($"<td>{cell}</td>"))}</tr>\n"));
        return Markup.Of(
            $"""
            <div class="scroll" tabindex="0" role="region" aria-label="{name}"><table class="write {kind}">
            <thead><tr>{heads.Select(head => Markup.Of($"<th scope=\"col\">{head}</th>"))}</tr></thead>
            <tbody>
            {written}</tbody></table></div>

            """);
    }

    /// <summary>A number of a hole or a bag, which has no thousands.</summary>
    public static string Plain(int number) => Invariant($"{number}");
}
