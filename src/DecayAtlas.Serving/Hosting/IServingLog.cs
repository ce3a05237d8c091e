namespace DecayAtlas.Serving.Hosting;

/// <summary>What one request came to. The query is not in it: it may tell where somebody's ground lies.</summary>
/// <param name="Path">Percent-encoded, so that it holds no blank and no line break.</param>
public sealed record AnsweredRequest(DateTimeOffset Time, string Method, string Path, int Status, long Bytes, double Milliseconds);

/// <summary>Is told what happens while the server runs, by several threads at once.</summary>
public interface IServingLog
{
    /// <summary>Whether it wants to hear of every request.</summary>
    bool WantsRequests { get; }

    void Answered(AnsweredRequest request);

    /// <summary>A new release or model was taken up.</summary>
    void TookUp(string sentence);

    /// <summary>Something failed, and the server goes on.</summary>
    void Trouble(string sentence);
}

public sealed class SilentLog : IServingLog
{
    public bool WantsRequests => false;

    public void Answered(AnsweredRequest request) { }

    public void TookUp(string sentence) { }

    public void Trouble(string sentence) { }
}
