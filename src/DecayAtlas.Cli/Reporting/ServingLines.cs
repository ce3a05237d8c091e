using System.Globalization;
using System.Net;
using System.Text.Json;

namespace DecayAtlas.Cli.Reporting;

/// <summary>What a running server prints.</summary>
internal abstract class ServingLines : IServingLog
{
    protected const string Exposed =
        "Whoever reaches this address reads everything, without password and unencrypted: put a proxy with TLS before it.";

    private readonly Lock _oneAtATime = new();

    public abstract bool WantsRequests { get; }

    public abstract void Started(Uri listening, ServingOptions options, string release, string? model, string atlas);

    public abstract void Answered(AnsweredRequest request);

    public abstract void TookUp(string sentence);

    public abstract void Trouble(string sentence);

    public abstract void Stopped();

    protected static bool IsExposed(ServingOptions options) => !IPAddress.IsLoopback(options.Address);

    /// <summary>The address a person types: the server's own, or the public one.</summary>
    protected static Uri FrontOf(Uri listening, ServingOptions options) => options.PublicUrl ?? listening;

    protected void Write(Action<string> to, string line)
    {
        lock (_oneAtATime)
            to(line);
    }
}

/// <summary>For people and quiet logs.</summary>
internal sealed class PlainServingLines(Screen screen, bool tellsRequests) : ServingLines
{
    public override bool WantsRequests => tellsRequests;

    public override void Started(Uri listening, ServingOptions options, string release, string? model, string atlas)
    {
        Write(screen.Line, $"Release {release} of {atlas} is served, read-only, at "
            + $"{FrontOf(listening, options)}{(options.PublicUrl is null ? "" : $" (listening at {listening})")}; "
            + $"{(model is null ? "no model predicts" : $"model {model} predicts")}. Ctrl-C ends it.");
        if (IsExposed(options))
            Write(screen.ErrorLine, Exposed);
    }

    public override void Answered(AnsweredRequest request) => Write(screen.Line, string.Create(
        CultureInfo.InvariantCulture, $"{request.Time:yyyy-MM-dd'T'HH:mm:ss.fff'Z'} {request.Method} {request.Path} {request.Status} "
        + $"{request.Bytes} B {request.Milliseconds:0.0} ms"));

    public override void TookUp(string sentence) => Write(screen.Line, sentence);

    public override void Trouble(string sentence) => Write(screen.ErrorLine, sentence);

    public override void Stopped() => Write(screen.Line, "Ended.");
}

/// <summary>One JSON object a line, for a log collector.</summary>
internal sealed class JsonServingLines(Screen screen) : ServingLines
{
    private static readonly JsonSerializerOptions OneLine = new(JsonText.Options) { WriteIndented = false };

    public override bool WantsRequests => true;

    public override void Started(Uri listening, ServingOptions options, string release, string? model, string atlas) => Say("start", new
    {
        Listening = listening,
        options.PublicUrl,
        Release = release,
        ModelId = model,
        Atlas = atlas,
        ReadOnly = true,
        Warning = IsExposed(options) ? Exposed : null,
    });

    public override void Answered(AnsweredRequest request) =>
        Say("request", new { request.Method, request.Path, request.Status, request.Bytes, Ms = Math.Round(request.Milliseconds, 3) },
            request.Time);

    public override void TookUp(string sentence) => Say("news", new { Message = sentence });

    public override void Trouble(string sentence) => Say("trouble", new { Message = sentence });

    public override void Stopped() => Say("stop", new { });

    private void Say(string happened, object more, DateTimeOffset? time = null)
    {
        string rest = JsonSerializer.Serialize(more, OneLine)[1..];
        string head =
            JsonSerializer.Serialize(new
            {
                Time = (time ?? DateTimeOffset.UtcNow).ToString("O", CultureInfo.InvariantCulture),
                Event = happened
            }, OneLine)[..^1];
        Write(screen.Line, rest == "}" ? head + rest : $"{head},{rest}");
    }
}
