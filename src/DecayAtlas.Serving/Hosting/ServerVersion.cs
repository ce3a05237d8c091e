namespace DecayAtlas.Serving.Hosting;

/// <summary>The version that answers tell, without the commit.</summary>
internal static class ServerVersion
{
    public static string Own { get; } = typeof(ServerVersion).Assembly.GetName().Version!.ToString(3);
}
