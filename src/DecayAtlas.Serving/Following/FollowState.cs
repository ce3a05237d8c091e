namespace DecayAtlas.Serving.Following;

/// <summary>What the last look at the atlas came to.</summary>
internal sealed class FollowState
{
    private volatile bool _isReadable = true;

    /// <summary>Whether the release that is served is whole and the newest.</summary>
    public bool IsAtlasReadable { get => _isReadable; set => _isReadable = value; }
}
