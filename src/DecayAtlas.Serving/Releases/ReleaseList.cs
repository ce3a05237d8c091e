using System.Text;
using System.Text.Encodings.Web;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Serving.Answers;
using DecayAtlas.Serving.Following;
using Microsoft.AspNetCore.Http;
using Microsoft.Net.Http.Headers;

namespace DecayAtlas.Serving.Releases;

/// <summary>All releases, the newest first: JSON for programs, a small page for people.</summary>
internal sealed class ReleaseList(ServedAtlas atlas, ReleaseShelf shelf, PublicAddress address)
{
    private sealed record Entry(string Name, string Id, int Number, bool IsCurrent, string Descriptor, string Checksums, string? Pages);

    /// <summary>Whether a reader rather takes a page than data.</summary>
    public static bool WantsPage(HttpContext http) =>
        http.Request.GetTypedHeaders().Accept.OrderByDescending(a => a.Quality ?? 1).FirstOrDefault(a => a.MediaType.Value is "text/html" or "application/json") is { MediaType.Value: "text/html" };

    public Task AnswerAsync(HttpContext http)
    {
        http.Response.Headers.Vary = HeaderNames.Accept;
        string root = address.Root(http);
        ReleaseName current = atlas.Current.Name;
        Entry[] entries = [.. atlas.Atlas.ReleaseNames().Reverse().Where(r => shelf.Find(r.ToString()) is not null).Select(r => new Entry(
            r.ToString(), r.Id, r.Number, r == current, Way(r, "datapackage.json"), Way(r, ReleaseWriter.ChecksumsName), HasPages(r) ? Way(r, FilesResource.FrontPage) : null))];
        return WantsPage(http) ? PageAsync(http, entries) : JsonAnswer.WriteAsync(http, new { Releases = entries }, "no-cache");

        string Way(ReleaseName release, string path) => root + FilesResource.AddressOf(release.ToString(), path);
    }

    private bool HasPages(ReleaseName release) => ListedFiles.StampOf(new ReleasePages(atlas.Atlas, release).Folder) is not null;

    private static async Task PageAsync(HttpContext http, IReadOnlyList<Entry> entries)
    {
        var page = new StringBuilder("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><meta name=\"color-scheme\" content=\"light dark\"><title>Releases</title>\n");
        // it looks as the newest pages do
        if (entries.FirstOrDefault(e => e.Pages is not null) is { Pages: { } front })
        {
            string assets = HtmlEncoder.Default.Encode(front[..^"index.html".Length] + "assets/");
            page.Append("<link rel=\"icon\" href=\"").Append(assets).Append("mark.svg\"><link rel=\"stylesheet\" href=\"").Append(assets).Append("pages.css\">\n");
        }

        page.Append("</head>\n<body class=\"text\"><main><h1>Releases</h1><ul>\n");
        foreach (Entry entry in entries)
        {
            page.Append("<li>").Append(HtmlEncoder.Default.Encode(entry.Name)).Append(entry.IsCurrent ? " (current)" : "");
            foreach ((string? way, string text) in new[] { (entry.Pages, "pages"), (entry.Descriptor, "files and columns"), (entry.Checksums, "checksums") })
            {
                if (way is not null)
                    page.Append(" – <a href=\"").Append(HtmlEncoder.Default.Encode(way)).Append("\">").Append(text).Append("</a>");
            }

            page.Append("</li>\n");
        }

        page.Append("</ul><p>No basis for regulation, fertiliser or carbon-credit decisions.</p></main></body></html>\n");
        http.Response.ContentType = MediaTypes.Of(".html");
        http.Response.Headers.CacheControl = "no-cache";
        await http.Response.WriteAsync(page.ToString(), http.RequestAborted);
    }
}
