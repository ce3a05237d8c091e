using Microsoft.Net.Http.Headers;

namespace DecayAtlas.Serving.Releases;

/// <summary>All releases, the newest first: JSON for programs, a small page for people.</summary>
internal sealed class ReleaseList(ServedAtlas atlas, ReleaseShelf shelf, PublicAddress address)
{
    private sealed record Entry(string Name, string Id, int Number, bool IsCurrent, string? Title, string PublishedOn,
        int? Contributions, int? Sites, int? Burials, string Descriptor, string Checksums, string? Pages);

    public static bool WantsPage(HttpContext http) =>
        http.Request.GetTypedHeaders().Accept.OrderByDescending(a => a.Quality ?? 1)
            .FirstOrDefault(a => a.MediaType.Value is "text/html" or "application/json") is { MediaType.Value: "text/html" };

    public Task AnswerAsync(HttpContext http)
    {
        http.Response.Headers.Vary = HeaderNames.Accept;
        string root = address.Root(http);
        ReleaseName current = atlas.Current.Name;
        Entry[] entries = [.. atlas.Atlas.ReleaseNames().Reverse().Where(r => shelf.Find(r.ToString()) is not null).Select(EntryOf)];
        return WantsPage(http) ? PageAsync(http, root, entries) : JsonAnswer.WriteAsync(http, new { Releases = entries }, "no-cache");

        Entry EntryOf(ReleaseName release)
        {
            ReleaseFacts facts = ReleaseFacts.Of(atlas.Atlas.FolderOf(release));
            return new Entry(release.ToString(), release.Id, release.Number, release == current, facts.Title, facts.Day,
                facts.Contributions, facts.Sites, facts.Burials, Way(release, ReleaseRows.DescriptorName),
                Way(release, ReleaseWriter.ChecksumsName), shelf.HasPages(release) ? Way(release, FilesResource.FrontPage) : null);
        }

        string Way(ReleaseName release, string path) => root + FilesResource.AddressOf(release.ToString(), path);
    }

    private static Task PageAsync(HttpContext http, string root, IReadOnlyList<Entry> entries)
    {
        string count = Counted.Of(entries.Count, "release");
        Markup body = Markup.Of($"""
            <p class="lead">{count}, the newest first. A release never changes: cite it by its id, and these addresses stay.</p>
            <ul class="cards">
            {entries.Select(Item)}</ul>
            """);
        http.Response.ContentType = MediaTypes.Of(".html");
        http.Response.Headers.CacheControl = "no-cache";
        string page = ServerPage.Of(root, entries.FirstOrDefault(e => e.IsCurrent)?.Title ?? "DecayAtlas", "Releases",
            FilesResource.Root + "/", body);
        return http.Response.WriteAsync(page, http.RequestAborted);
    }

    private static Markup Item(Entry entry)
    {
        (string? Way, string Text)[] ways =
            [(entry.Pages, "pages"), (entry.Descriptor, "files and columns"), (entry.Checksums, "checksums")];
        IEnumerable<Markup> links = ways.Where(w => w.Way is not null)
            .Select(w => Markup.Of($"""<a href="{w.Way}">{w.Text}</a> """));
        (int? Count, string Text)[] counts =
            [(entry.Contributions, "contribution"), (entry.Sites, "site"), (entry.Burials, "burial")];
        string holds = string.Join(", ", counts.Where(c => c.Count is not null).Select(c => Counted.Of(c.Count!.Value, c.Text)));
        return Markup.Of(
            $"""
            <li><p class="card-site">{entry.Name}{Markup.If(entry.IsCurrent, $" <span class=\"badge accepted\">current</span>")}</p>
            <p>{entry.Title}</p><p>published <time datetime="{entry.PublishedOn}">{entry.PublishedOn}</time></p>
            <p>{holds}</p><p class="ways">{links}</p></li>

            """);
    }
}
