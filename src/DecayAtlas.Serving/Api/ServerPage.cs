namespace DecayAtlas.Serving.Api;

/// <summary>A page of the server itself, in the look of the pages of releases, also where there are none yet.</summary>
internal static class ServerPage
{
    public const string StylePath = FeaturesApi.Prefix + "/guide.css", MarkPath = FeaturesApi.Prefix + "/mark.svg";

    private static readonly (string Path, string Text)[] Ways =
        [("/", "Pages"), (FilesResource.Root + "/", "Releases"), (FeaturesApi.Prefix + "/guide", "Interface")];

    /// <param name="root">The address of the server, without a slash at its end.</param>
    /// <param name="brand">What the release calls itself.</param>
    /// <param name="path">That of the page, as one of the ways.</param>
    public static string Of(string root, string brand, string title, string path, Markup body)
    {
        IEnumerable<Markup> ways = Ways.Select(w => Markup.Of(
            $"<li><a href=\"{root}{w.Path}\"{Markup.If(w.Path == path, $" aria-current=\"page\"")}>{w.Text}</a></li>"));
        return Markup.Of(
            $"""
            {PageHead.Of("en", PagePolicy.Text, $"{title} – {brand}", root + MarkPath, Markup.Of(
                $"<link rel=\"stylesheet\" href=\"{root}{StylePath}\">"))}
            <body class="text">
            <a class="skip" href="#main">Skip to the content</a>
            <header class="top">
            <a class="brand" href="{root}/"><img src="{root}{MarkPath}" alt="" width="30" height="30"><span>{brand}</span></a>
            <nav aria-label="Parts of this server"><ul>{ways}</ul></nav>
            </header>
            <main id="main" tabindex="-1">
            <h1>{title}</h1>
            {body}
            </main>
            <footer class="foot"><p>No basis for regulation, fertiliser or carbon-credit decisions.</p></footer>
            </body>
            </html>

            """).ToString();
    }
}
