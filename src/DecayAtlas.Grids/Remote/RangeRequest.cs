using System.Net;
using System.Net.Http.Headers;

namespace DecayAtlas.Grids.Remote;

/// <summary>Asks a host for some bytes of a file, and believes nothing of its answer that doesn't fit.</summary>
/// <param name="allowedBytes">Told how many bytes are about to be fetched; refuses when they are too many.</param>
/// <param name="onChange">Told that the host has another version than the one that was asked for.</param>
internal sealed class RangeRequest(Uri address, RemoteOptions options, Action<long> allowedBytes, Action onChange)
{
    private static readonly HttpClient Client = new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseCookies = false,
        AutomaticDecompression = DecompressionMethods.None,
        PooledConnectionLifetime = TimeSpan.FromMinutes(5),
        MaxResponseHeadersLength = 64,
    })
    {
        Timeout = Timeout.InfiniteTimeSpan,
    };

    /// <param name="length">How many; fewer come where the file ends before.</param>
    /// <param name="expected">Of which version; null for the first request, which finds it out.</param>
    /// <exception cref="GridException">In one sentence.</exception>
    public (byte[] Bytes, FileVersion Version) Fetch(long from, int length, FileVersion? expected)
    {
        for (int attempt = 0; ; attempt++)
        {
            try
            {
                allowedBytes(length);
                return Task.Run(() => FetchOnce(from, length, expected)).GetAwaiter().GetResult();
            }
            catch (PassingFault) when (attempt < options.Retries)
            {
                Thread.Sleep(TimeSpan.FromMilliseconds(Math.Min(100 << attempt, 5000)));
            }
            catch (PassingFault e)
            {
                throw new GridException($"{address} {e.Said}{(options.Retries == 0 ? "" : Invariant($", {options.Retries + 1} times"))}; "
                    + "run again when its host answers, or raise remote.seconds or remote.retries.", e);
            }
        }
    }

    private async Task<(byte[] Bytes, FileVersion Version)> FetchOnce(long from, int length, FileVersion? expected)
    {
        using CancellationTokenSource clock = new(TimeSpan.FromSeconds(options.Seconds));
        try
        {
            using HttpRequestMessage request = new(HttpMethod.Get, address);
            request.Headers.Range = new RangeHeaderValue(from, from + length - 1);
            request.Headers.AcceptEncoding.ParseAdd("identity");
            if (expected?.ETag is { } tag)
                request.Headers.IfMatch.Add(new EntityTagHeaderValue(tag));
            else if (expected is not null)
                request.Headers.IfUnmodifiedSince = expected.ChangedAt;
            using HttpResponseMessage answer =
                await Client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, clock.Token);
            FileVersion version = Checked(answer, from, length, expected);
            int count = (int)Math.Min(length, version.Length - from);
            byte[] bytes = new byte[count];
            using Stream body = await answer.Content.ReadAsStreamAsync(clock.Token);
            int got = await body.ReadAtLeastAsync(bytes, count, throwOnEndOfStream: false, clock.Token);
            if (got < count)
                throw new PassingFault(Invariant($"sent {got} of {count} bytes and no more"));
            if (await body.ReadAsync(new byte[1], clock.Token) > 0)
                throw Lying(Invariant($"sends more than the {count} bytes that it says"));
            return (bytes, version);
        }
        catch (OperationCanceledException e)
        {
            throw new PassingFault(Invariant($"gave no whole answer in {options.Seconds} s"), e);
        }
        catch (HttpRequestException e) when (e.HttpRequestError == HttpRequestError.SecureConnectionError)
        {
            string why = (e.InnerException ?? e).Message.TrimEnd('.');
            throw new GridException($"{address} could not be reached over an encrypted connection that can be trusted ({why}); its host "
                + "has to mend its certificate, or fetch the file in another way.", e);
        }
        catch (Exception e) when (e is HttpRequestException or IOException)
        {
            throw new PassingFault($"could not be read ({(e.InnerException ?? e).Message.TrimEnd('.')})", e);
        }
    }

    /// <summary>What the headers say the file is, once they fit what was asked.</summary>
    private FileVersion Checked(HttpResponseMessage answer, long from, int length, FileVersion? expected)
    {
        int code = (int)answer.StatusCode;
        if (code is 408 or 429 or >= 500)
            throw new PassingFault($"answers {code}");
        if (code == 412)
            throw Changed();
        if (answer.StatusCode != HttpStatusCode.PartialContent)
        {
            throw new GridException($"{address} " + code switch
            {
                200 => "answers with the whole file where a part was asked for; a host that reads by ranges (206) was expected, so fetch "
                    + "the file and name it by its path.",
                >= 300 and < 400 => $"sends on to {Target(answer)}, which is not followed; name the file by the address where it lies.",
                401 or 403 => $"answers {code}, so it is not for everybody; fetch the file and name it by its path.",
                404 or 410 => $"answers {code}: there is no such file; correct the address.",
                416 => "answers 416: it has no bytes where a grid has its first; correct the address.",
                _ => $"answers {code}, and 206 was expected; correct the address, or fetch the file and name it by its path.",
            });
        }

        ContentRangeHeaderValue? said = answer.Content.Headers.ContentRange;
        if (said is not { Unit: "bytes", From: { } first, To: { } last, Length: { } whole })
            throw Lying("does not say which part of how many bytes it sends");
        if (first != from || last != Math.Min(from + length, whole) - 1)
            throw Lying(Invariant($"sends bytes {first} to {last} of {whole} where {length} from {from} on were asked for"));
        if (answer.Content.Headers.ContentLength is { } bodyBytes && bodyBytes != last - first + 1)
            throw Lying(Invariant($"says that {last - first + 1} bytes are {bodyBytes}"));
        if (answer.Content.Headers.ContentEncoding.Count > 0)
            throw Lying($"packs what it sends ({string.Join(", ", answer.Content.Headers.ContentEncoding)}) without being asked");

        string? tag = answer.Headers.ETag is { IsWeak: false } strong ? strong.Tag : null;
        FileVersion found = new(tag, answer.Content.Headers.LastModified, whole);
        if (expected is not null && (tag, whole, expected.ETag is null ? found.Time : "")
            != (expected.ETag, expected.Length, expected.ETag is null ? expected.Time : ""))
        {
            throw Changed();
        }

        return tag is not null || found.ChangedAt is not null ? found
            : throw Lying("names neither a strong ETag nor when it was changed, so that its bytes could not be told from later ones");
    }

    private GridException Changed()
    {
        onChange();
        return new GridException($"{address} has changed while it was read; run again.");
    }

    private GridException Lying(string what) =>
        new($"{address} {what}; another host was expected, so fetch the file and name it by its path.");

    private static string Target(HttpResponseMessage answer) =>
        answer.Headers.Location is { IsAbsoluteUri: true } target ? RemoteAddress.WithoutSecrets(target.OriginalString) : "another address";
}
