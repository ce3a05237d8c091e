using System.Text;

namespace DecayAtlas.Browser;

/// <summary>A campaign file as it was dropped.</summary>
internal sealed record DroppedCampaign(string Name, string Text)
{
    /// <exception cref="ConfigurationException">It is none; the message names the line.</exception>
    public Campaign Read() => CampaignReader.Read(Name, () => new MemoryStream(Encoding.UTF8.GetBytes(Text)));
}

/// <summary>What the page knows when it asks on.</summary>
/// <param name="Answers">By the ids of the questions.</param>
internal sealed record AskedTableRequest(
    DroppedCampaign? Campaign, Dictionary<string, string> Answers, string Language, DateOnly Today);
