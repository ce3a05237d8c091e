using Microsoft.Net.Http.Headers;

namespace DecayAtlas.Serving.Releases;

/// <summary>All releases, the newest first: JSON for programs, a small page for people.</summary>
internal sealed class ReleaseList(ServedAtlas atlas, ReleaseShelf shelf, PublicAddress address)
{
    private sealed record Entry(string Name, string Id, int Number, bool IsCurrent, string Descriptor, string Checksums, string? Pages);

    public static bool WantsPage(HttpContext http) =>
        http.Request.GetTypedHeaders().Accept.OrderByDescending(a => a.Quality ?? 1)
            .FirstOrDefault(a => a.MediaType.Value is "text/html" or "application/json") is { MediaType.Value: "text/html" };

    public Task AnswerAsync(HttpContext http)
    {
        http.Response.Headers.Vary = HeaderNames.Accept;
        string root = address.Root(http);
        ReleaseName current = atlas.Current.Name;
        Entry[] entries = [.. atlas.Atlas.ReleaseNames().Reverse().Where(r => shelf.Find(r.ToString()) is not null).Select(r => new Entry(
            r.ToString(), r.Id, r.Number, r == current, Way(r, "datapackage.json"), Way(r, ReleaseWriter.ChecksumsName),
            shelf.HasPages(r) ? Way(r, FilesResource.FrontPage) : null))];
        return WantsPage(http) ? PageAsync(http, entries) : JsonAnswer.WriteAsync(http, new { Releases = entries }, "no-cache");

        string Way(ReleaseName release, string path) => root + FilesResource.AddressOf(release.ToString(), path);
    }

    private static Task PageAsync(HttpContext http, IReadOnlyList<Entry> entries)
    {
        // it looks as the newest pages do
        string? assets = entries.Select(e => e.Pages).OfType<string>().FirstOrDefault()?[..^"index.html".Length] + "assets/";
        Markup look = Markup.If(entries.Any(e => e.Pages is not null),
            $"""<link rel="icon" href="{assets}mark.svg"><link rel="stylesheet" href="{assets}pages.css">""");
        Markup page = Markup.Of($"""
            <!DOCTYPE html>
            <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><title>Releases</title>
            {look}
            </head>
            <body class="text"><main><h1>Releases</h1><ul>
            {entries.Select(Item)}</ul><p>No basis for regulation, fertiliser or carbon-credit decisions.</p></main></body></html>

            """);
        http.Response.ContentType = MediaTypes.Of(".html");
        http.Response.Headers.CacheControl = "no-cache";
        return http.Response.WriteAsync(page.ToString(), http.RequestAborted);
    }

    private static Markup Item(Entry entry)
    {
        (string? Way, string Text)[] ways =
            [(entry.Pages, "pages"), (entry.Descriptor, "files and columns"), (entry.Checksums, "checksums")];
        IEnumerable<Markup> links = ways.Where(w => w.Way is not null).Select(w => Markup.Of($""" – <a href="{w.Way}">{w.Text}</a>"""));
        return Markup.Of($"<li>{entry.Name}{(entry.IsCurrent ? " (current)" : "")}{links}</li>\n");
    }
}
