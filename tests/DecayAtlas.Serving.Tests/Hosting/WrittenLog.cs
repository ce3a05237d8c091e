using System.Collections.Concurrent;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>Keeps what a server says.</summary>
internal sealed class WrittenLog : IServingLog
{
    public bool WantsRequests => true;

    public ConcurrentQueue<AnsweredRequest> Requests { get; } = [];

    public ConcurrentQueue<string> News { get; } = [];

    public ConcurrentQueue<string> Troubles { get; } = [];

    public void Answered(AnsweredRequest request) => Requests.Enqueue(request);

    public void TookUp(string sentence) => News.Enqueue(sentence);

    public void Trouble(string sentence) => Troubles.Enqueue(sentence);
}
