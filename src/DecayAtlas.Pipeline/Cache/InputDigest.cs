using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>A digest that stands for a list of inputs: equal inputs, equal key, and the work behind it need not be done again.</summary>
internal static class InputDigest
{
    public static string Of(IEnumerable<string> inputs)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (string input in inputs)
        {
            byte[] bytes = Encoding.UTF8.GetBytes(input);
            // the length first, so that no two lists run together to the same bytes
            hash.AppendData(BitConverter.GetBytes(bytes.Length));
            hash.AppendData(bytes);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
