using System.Net.Sockets;

namespace DecayAtlas.Cli.Reporting;

/// <summary>The server can't listen where it was told to.</summary>
internal sealed class ListeningException(string message, Exception inner) : Exception(message, inner)
{
    /// <summary>Starts listening, and says in one sentence why that can't be.</summary>
    /// <exception cref="ConfigurationException">The address is none of this machine.</exception>
    /// <exception cref="ListeningException">The port is taken, or not for this user.</exception>
    public static void Guard(ServingOptions options, Action start)
    {
        try
        {
            start();
        }
        catch (Exception e) when (FaultOf(e) is { } fault)
        {
            throw fault switch
            {
                SocketError.AddressNotAvailable =>
                    new ConfigurationException($"{options.Address} is no address of this machine, so that nothing can listen at it; "
                    + "use one of its own, or 0.0.0.0 for all.", e),
                SocketError.AddressAlreadyInUse =>
                    new ListeningException($"Port {options.Port} of {options.Address} is taken by another program; end that, or name "
                    + "another with --port.", e),
                SocketError.AccessDenied =>
                    new ListeningException($"Port {options.Port} may not be taken by this user; name one above 1023 with --port.", e),
                _ => new ListeningException($"Nothing can listen at port {options.Port} of {options.Address} ({fault}); name another "
                    + "address or port.", e),
            };
        }
    }

    private static SocketError? FaultOf(Exception? e)
    {
        for (; e is not null; e = e.InnerException)
        {
            if (e is SocketException socket)
                return socket.SocketErrorCode;
        }

        return null;
    }
}
