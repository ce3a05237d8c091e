using System.Net;
using System.Text.Json;

namespace DecayAtlas.Cli.Reporting;

/// <summary>What a running server prints: sentences for people and quiet logs, or one JSON object a line for a log collector.</summary>
internal sealed class ServingLines(Screen screen, bool isJson, bool tellsRequests) : IServingLog
{
    private const string Exposed =
        "Whoever reaches this address reads everything, without password and unencrypted: put a proxy with TLS before it.";

    private readonly Lock _oneAtATime = new();

    public bool WantsRequests => isJson || tellsRequests;

    public void Started(Uri listening, ServingOptions options, string release, string? model, string atlas)
    {
        string? warning = IPAddress.IsLoopback(options.Address) ? null : Exposed;
        // the address a person types: the server's own, or the public one
        Uri front = options.PublicUrl ?? listening;
        Say("start", new { listening, options.PublicUrl, release, ModelId = model, atlas, ReadOnly = true, warning }, screen.Line,
            $"Release {release} of {atlas} is served, read-only, at "
            + $"{front}{(options.PublicUrl is null ? "" : $" (listening at {listening})")}; "
            + $"{(model is null ? "no model predicts" : $"model {model} predicts")}. Ctrl-C ends it.");
        if (warning is not null && !isJson)
            Write(screen.ErrorLine, warning);
    }

    public void Answered(AnsweredRequest request) => Say("request",
        new { request.Method, request.Path, request.Status, request.Bytes, Ms = Math.Round(request.Milliseconds, 3) }, screen.Line,
        $"{request.Time:yyyy-MM-dd'T'HH:mm:ss.fff'Z'} {request.Method} {request.Path} {request.Status} "
        + $"{request.Bytes} B {request.Milliseconds:0.0} ms", request.Time);

    public void TookUp(string sentence) => Say("news", new { Message = sentence }, screen.Line, sentence);

    public void Trouble(string sentence) => Say("trouble", new { Message = sentence }, screen.ErrorLine, sentence);

    public void Stopped() => Say("stop", new { }, screen.Line, "Ended.");

    private void Say(string happened, object more, Action<string> to, string sentence, DateTimeOffset? time = null)
    {
        if (!isJson)
        {
            Write(to, sentence);
            return;
        }

        string rest = JsonSerializer.Serialize(more, Screen.OneLine)[1..];
        string head =
            JsonSerializer.Serialize(new { Time = $"{time ?? DateTimeOffset.UtcNow:O}", Event = happened }, Screen.OneLine)[..^1];
        Write(screen.Line, rest == "}" ? head + rest : $"{head},{rest}");
    }

    private void Write(Action<string> to, string line)
    {
        lock (_oneAtATime)
            to(line);
    }
}
