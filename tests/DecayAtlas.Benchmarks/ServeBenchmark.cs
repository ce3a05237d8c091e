using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;

namespace DecayAtlas.Benchmarks;

/// <summary>
/// The server under wrk, beside nginx that hands out the same pages as files: as fast as an answer can be that nobody has to find
/// or write. Then one page over and over for minutes, to see whether memory stays flat.
/// </summary>
internal static partial class ServeBenchmark
{
    private const int Connections = 32, ShortSeconds = 8;

    private static readonly (string Work, string Path)[] Pages =
    [
        ("10 burials", "/api/collections/burials/items"),
        ("10 accepted burials of one ecosystem", "/api/collections/burials/items?ecosystem=grassland&use=accepted"),
        ("10 sites in a box", "/api/collections/sites/items?bbox=-20,-20,40,40"),
        ("1000 burials", "/api/collections/burials/items?limit=1000"),
    ];

    public static int Run(int bags, int longSeconds)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-serve-").FullName;
        Process? server = null, peer = null;
        try
        {
            Console.WriteLine($"publishing {bags} bags");
            Campaign.Write(Path.Combine(work, "inbox"), bags);
            string configuration = Path.Combine(work, "serve.yaml"), program = Path.Combine(AppContext.BaseDirectory, "decayatlas.dll");
            File.WriteAllText(configuration, "version: 1\natlas: atlas\ninbox: inbox\n");
            if (Measured.Of("dotnet", program, "publish", configuration).ExitCode != 0)
                return 3;
            int port = FreePort(), peerPort = FreePort();
            Stopwatch started = Stopwatch.StartNew();
            server = Start("dotnet", program, "serve", configuration, "--port", Text(port));
            string address = $"http://127.0.0.1:{Text(port)}", peerAddress = $"http://127.0.0.1:{Text(peerPort)}";
            WaitFor(address + "/health");
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture, $"serving after {started.Elapsed.TotalSeconds:0.0} s, {Resident(server):0} MiB"));
            peer = StartPeer(work, peerPort, address);

            Console.WriteLine(
                "| answer | bytes | requests/s | 99 % within (ms) | nginx, the same as a file | against nginx |\n| --- | ---: | ---: | "
                + "---: | ---: | ---: |");
            for (int i = 0; i < Pages.Length; i++)
            {
                long bytes = new FileInfo(Path.Combine(work, "files", Text(i))).Length;
                Load ours = Load.Of(address + Pages[i].Path, ShortSeconds), theirs = Load.Of($"{peerAddress}/{Text(i)}", ShortSeconds);
                Console.WriteLine(
                    string.Create(
                        CultureInfo.InvariantCulture, $"| {Pages[i].Work} | {bytes} | {ours.RequestsPerSecond:0} | {ours.Slowest:0.0} "
                        + $"| {theirs.RequestsPerSecond:0} | {ours.RequestsPerSecond / theirs.RequestsPerSecond:0.00} x |{ours.Faults}"));
            }

            Console.WriteLine($"\n10 burials for {longSeconds} s, resident memory (MiB) a tenth of the time each:");
            Task<Load> steady = Task.Run(() => Load.Of(address + Pages[0].Path, longSeconds));
            List<double> resident = new();
            while (!steady.Wait(TimeSpan.FromSeconds(longSeconds / 10.0)))
                resident.Add(Resident(server));
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture, $"{string.Join(", ",
                        resident.Select(r =>
                            r.ToString("0",
                                CultureInfo.InvariantCulture)))}; {steady.Result.RequestsPerSecond:0} requests/s{steady.Result.Faults}"));
            return 0;
        }
        finally
        {
            foreach (Process process in new[] { server, peer }.OfType<Process>())
            {
                process.Kill(entireProcessTree: true);
                process.WaitForExit();
                process.Dispose();
            }

            Directory.Delete(work, recursive: true);
        }
    }

    /// <summary>nginx with two workers over the bytes that our server answered.</summary>
    private static Process StartPeer(string work, int port, string address)
    {
        using HttpClient client = new();
        Directory.CreateDirectory(Path.Combine(work, "files"));
        for (int i = 0; i < Pages.Length; i++)
        {
            File.WriteAllBytes(Path.Combine(work, "files", Text(i)), client.GetByteArrayAsync(address + Pages[i].Path).GetAwaiter()
                .GetResult());
        }

        string settings = Path.Combine(work, "nginx.conf");
        File.WriteAllText(settings, $$"""
            daemon off; worker_processes 2; pid {{work}}/nginx.pid; error_log {{work}}/nginx.log;
            events { worker_connections 1024; }
            http { access_log off; sendfile on; keepalive_requests 100000000; default_type application/geo+json; server { listen 127.0.0.1:{{Text(port)}}; root {{work}}/files; } }
            """);
        // the workers of a root process change to another user, which must see the files
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(work, (UnixFileMode)0b111_101_101);
        Process peer = Start("/usr/sbin/nginx", "-c", settings, "-e", Path.Combine(work, "nginx.log"));
        WaitFor($"http://127.0.0.1:{Text(port)}/0");
        return peer;
    }

    private static Process Start(string program, params string[] args)
    {
        ProcessStartInfo info = new(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string arg in args)
            info.ArgumentList.Add(arg);
        Process process = Process.Start(info)!;
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    private static void WaitFor(string address)
    {
        using HttpClient client = new();
        for (int i = 0; ; i++)
        {
            try
            {
                using HttpResponseMessage answer = client.GetAsync(address).GetAwaiter().GetResult();
                answer.EnsureSuccessStatusCode();
                return;
            }
            catch (HttpRequestException) when (i < 600)
            {
                Thread.Sleep(100);
            }
        }
    }

    private static double Resident(Process process)
    {
        process.Refresh();
        return process.WorkingSet64 / 1048576.0;
    }

    private static int FreePort()
    {
        using TcpListener socket = new(IPAddress.Loopback, 0);
        socket.Start();
        return ((IPEndPoint)socket.LocalEndpoint).Port;
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>What wrk (Debian package wrk) says of one address.</summary>
    private sealed partial record Load(double RequestsPerSecond, double Slowest, string Faults)
    {
        public static Load Of(string address, int seconds)
        {
            string said = Measured.Of("wrk", "-t1", $"-c{Text(Connections)}", $"-d{Text(seconds)}s", "--latency", address).Output;
            Match rate = Rate().Match(said), slowest = Tail().Match(said), faults = Wrong().Match(said);
            double unit = slowest.Groups[2].Value switch { "us" => 0.001, "ms" => 1, _ => 1000 };
            return new Load(
                Number(rate.Groups[1].Value), Number(slowest.Groups[1].Value) * unit, faults.Success ? " " + faults.Value.Trim() : "");
        }

        private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

        [GeneratedRegex(@"Requests/sec:\s+([\d.]+)")]
        private static partial Regex Rate();

        [GeneratedRegex(@"99%\s+([\d.]+)(us|ms|s)")]
        private static partial Regex Tail();

        [GeneratedRegex(@"(Socket errors|Non-2xx).*")]
        private static partial Regex Wrong();
    }
}
