using Microsoft.Net.Http.Headers;

namespace DecayAtlas.Serving.Releases;

/// <summary>The files of releases: <c>/releases/NAME/PATH</c>, with <c>current</c> leading to the name of the release that is
/// current.</summary>
internal sealed class FilesResource(ServedAtlas atlas, ReleaseShelf shelf, ReleaseList list, PublicAddress address)
{
    public const string Root = "/releases", CurrentName = "current", FrontPage = ReleasePages.FolderName + "/index.html";

    /// <summary>Whether a path leads to a file of a release that is none of its pages.</summary>
    public static bool IsData(PathString path) => path.StartsWithSegments(Root, out PathString rest) && rest.Value is { } inside
        && inside.Length > 1 && inside.IndexOf('/', 1) is var name and > 0
        && !IsOfPages(inside[(name + 1)..]);

    // by its path in the release
    private static bool IsOfPages(string path) => path.StartsWith(ReleasePages.FolderName + "/", StringComparison.Ordinal);

    /// <summary>Files up to this are read whole, so that nothing holds a folder open that is to be made anew (Windows minds).</summary>
    private const int WholeBytes = 256 * 1024;

    /// <summary>Leads to the pages of the current release; in a night, between publishing and the making of its pages, to the newest that
    /// there are, so that nobody stands before a closed door while a model is trained.</summary>
    public Task EnterAsync(HttpContext http)
    {
        ReleaseName current = atlas.Current.Name;
        ReleaseName front = shelf.HasPages(current) ? current
            : atlas.Atlas.ReleaseNames().LastOrDefault(r => shelf.Find(r.ToString()) is not null && shelf.HasPages(r)) ?? current;
        return address.SendOnAsync(http, AddressOf(front.ToString(), FrontPage));
    }

    public Task AnswerAsync(HttpContext http)
    {
        string rest = (http.Request.Path.Value ?? "")[Root.Length..];
        if (rest.Length == 0)
            return address.SendOnAsync(http, Root + "/");
        if (rest == "/")
            return list.AnswerAsync(http);
        int slash = rest.IndexOf('/', 1);
        string name = slash < 0 ? rest[1..] : rest[1..slash], path = slash < 0 ? "" : rest[(slash + 1)..];
        if (name == CurrentName)
            return address.SendOnAsync(http, AddressOf(atlas.Current.Name.ToString(), path));
        if (shelf.Find(name) is not { } release)
            return Problem.WriteAsync(http, Status404NotFound, $"There is no such release; {Root}/ lists those there are.");
        if (path.Length == 0)
            return EnterReleaseAsync(http, release);
        if (path == ReleasePages.FolderName)
            return address.SendOnAsync(http, AddressOf(name, FrontPage));
        if (path.EndsWith('/') && path.StartsWith(ReleasePages.FolderName, StringComparison.Ordinal))
            return address.SendOnAsync(http, AddressOf(name, path + "index.html"));
        return SendAsync(http, release, path);
    }

    /// <summary>The way to a file of a release, encoded.</summary>
    public static string AddressOf(string release,
        string path) => $"{Root}/{release}/{string.Join('/', path.Split('/').Select(Uri.EscapeDataString))}";

    /// <summary>People come to a release's pages, programs to its descriptor.</summary>
    private Task EnterReleaseAsync(HttpContext http, ReleaseName release)
    {
        http.Response.Headers.Vary = HeaderNames.Accept;
        return address.SendOnAsync(http, AddressOf(release.ToString(), ReleaseList.WantsPage(http) ? FrontPage : "datapackage.json"));
    }

    private async Task SendAsync(HttpContext http, ReleaseName release, string path)
    {
        if (await shelf.OpenAsync(release, path, http.RequestAborted) is not var (file, stream))
        {
            bool isForPages = path == FrontPage && !shelf.HasPages(release);
            await Problem.WriteAsync(http, Status404NotFound, isForPages
                ? $"Release {release} has no pages yet; make them with: decayatlas pages FILE. "
                    + $"Its files are listed in {Root}/{release}/datapackage.json."
                : $"Release {release} has no such file; its datapackage.json and checksums.sha256 list those it has.");
            return;
        }

        await using FileStream open = stream;
        long length = stream.Length;
        bool isPage = IsOfPages(path), isPacked = isPage && MediaTypes.IsPacked(file.MediaType);
        if (isPage)
            http.Response.Headers.ContentSecurityPolicy = AnswerHeaders.PolicyOf(path);
        // a page that holds its scripts in itself runs from a folder, and not under the policy of a server
        if (Path.GetFileName(path) == CheckInOneFile.FileName)
            http.Response.Headers.ContentDisposition = "attachment";
        http.Response.Headers.CacheControl = isPage ? "no-cache" : "public, max-age=31536000, immutable";
        // packed and plain bytes differ: their tag is a weak one, and ranges of them mean nothing
        EntityTagHeaderValue tag = new($"\"{file.Sha256}\"", isWeak: isPacked);
        if (!isPacked)
        {
            http.Response.Headers.AcceptRanges = "bytes";
            if (!TakesRange(http.Request))
                http.Request.Headers.Range = default;
        }

        IResult answer = isPacked && length <= WholeBytes
            ? Results.Bytes(await ReadWholeAsync(stream, http.RequestAborted), file.MediaType, entityTag: tag)
            : Results.Stream(stream, file.MediaType, entityTag: tag, enableRangeProcessing: !isPacked);
        await answer.ExecuteAsync(http);
        if (http.Response is { StatusCode: Status416RangeNotSatisfiable, HasStarted: false })
            await Problem.WriteAsync(http, Status416RangeNotSatisfiable, $"The file has {length} bytes, and none of those asked for.");
    }

    /// <summary>What RFC 9110 asks of a range beyond what the framework looks at: that it is of a GET and of bytes (14.2), and its
    /// condition no date, since no answer carries one (13.1.5).</summary>
    private static bool TakesRange(HttpRequest request) =>
        HttpMethods.IsGet(request.Method)
        && request.Headers.Range is [{ } range] && range.StartsWith("bytes=", StringComparison.OrdinalIgnoreCase)
        && (request.Headers.IfRange is not [{ } condition, ..] || condition.Contains('"', StringComparison.Ordinal));

    private static async Task<byte[]> ReadWholeAsync(FileStream stream, CancellationToken cancellation)
    {
        byte[] bytes = new byte[stream.Length];
        await stream.ReadExactlyAsync(bytes, cancellation);
        return bytes;
    }
}
