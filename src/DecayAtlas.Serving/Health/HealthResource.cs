namespace DecayAtlas.Serving.Health;

/// <summary>Whether the server is well: 200 while it serves what is current, 503 where the atlas has become unreadable or a newer release
/// can't be loaded.</summary>
internal sealed class HealthResource(ServedAtlas atlas, ServedModel? model, FollowState state)
{
    private readonly string _started = $"{DateTimeOffset.UtcNow:yyyy-MM-dd'T'HH:mm:ss'Z'}";

    public Task AnswerAsync(HttpContext http) => JsonAnswer.WriteAsync(http, new
    {
        Status = state.IsAtlasReadable ? "ok" : "stale",
        Release = atlas.Current.Name.ToString(),
        ReleaseId = atlas.Current.Name.Id,
        model?.Current?.Model.Card.ModelId,
        Software = "DecayAtlas " + ServerVersion.Own,
        Started = _started,
    }, "no-store", status: state.IsAtlasReadable ? Status200OK : Status503ServiceUnavailable);
}
