using System.Net;

namespace DecayAtlas.Serving.Hosting;

/// <summary>Where the server listens, what it says of where it is reached, and its limits.</summary>
/// <param name="Address">The address that is bound; loopback unless somebody decides otherwise.</param>
/// <param name="Port">The port; 0 takes any free one.</param>
/// <param name="PublicUrl">Where readers reach the server through a proxy, for the links in its answers; missing where they reach it
/// directly.</param>
public sealed record ServingOptions(IPAddress Address, int Port, Uri? PublicUrl = null)
{
    /// <summary>The port where none is said: our own choice.</summary>
    public const int UsualPort = 4717;

    /// <summary>How often the atlas is looked at for a new release or model.</summary>
    public TimeSpan FollowEvery { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>The origin whose pages may read answers in a browser, or <c>*</c> for all; missing where only the server's own
    /// may.</summary>
    public string? AllowedOrigin { get; init; }

    /// <summary>Whether older releases stay unseen: they hold what was published then, also of a site that was marked sensitive only
    /// later.</summary>
    public bool ServesOnlyCurrent { get; init; }

    /// <summary>Further ones are closed.</summary>
    public int MostConnections { get; init; } = 512;

    /// <summary>How long a request may take to arrive, or to be answered where the answer is computed. Downloads may take longer, but not
    /// crawl.</summary>
    public TimeSpan RequestTime { get; init; } = TimeSpan.FromSeconds(20);

    public int PredictionsAtOnce { get; init; } = Environment.ProcessorCount;

    /// <summary>Predictions that may wait for their turn; further ones are told to come again.</summary>
    public int PredictionsWaiting { get; init; } = 64;

    /// <summary>The path below which the server is reached, without a slash at its end; empty where it is reached at the root.</summary>
    public string Prefix => PublicUrl?.AbsolutePath.TrimEnd('/') ?? "";
}
