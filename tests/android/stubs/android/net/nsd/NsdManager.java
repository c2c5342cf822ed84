package android.net.nsd;

import java.util.ArrayList;
import java.util.List;

/** The system's listener: it calls back on a thread of its own and resolves one at a time. */
public class NsdManager {
    public static final int PROTOCOL_DNS_SD = 1;
    public static final int FAILURE_INTERNAL_ERROR = 0;
    public static final int FAILURE_ALREADY_ACTIVE = 3;

    public interface DiscoveryListener {
        void onDiscoveryStarted(String serviceType);

        void onDiscoveryStopped(String serviceType);

        void onServiceFound(NsdServiceInfo serviceInfo);

        void onServiceLost(NsdServiceInfo serviceInfo);

        void onStartDiscoveryFailed(String serviceType, int errorCode);

        void onStopDiscoveryFailed(String serviceType, int errorCode);
    }

    public interface ResolveListener {
        void onServiceResolved(NsdServiceInfo serviceInfo);

        void onResolveFailed(NsdServiceInfo serviceInfo, int errorCode);
    }

    public final List<String> told = new ArrayList<>();
    public final List<NsdServiceInfo> there = new ArrayList<>();
    public boolean refuses;
    private boolean resolving;

    public void add(NsdServiceInfo info) {
        there.add(info);
    }

    public void refuse() {
        refuses = true;
    }

    public void discoverServices(String type, int protocol, DiscoveryListener listener) {
        told.add("discover " + type + " " + protocol);
        new Thread(
                        () -> {
                            if (refuses) {
                                listener.onStartDiscoveryFailed(type, FAILURE_INTERNAL_ERROR);
                                return;
                            }
                            listener.onDiscoveryStarted(type);
                            for (NsdServiceInfo each : there) {
                                listener.onServiceFound(each);
                            }
                            listener.onServiceLost(new NsdServiceInfo("gone"));
                        })
                .start();
    }

    public void stopServiceDiscovery(DiscoveryListener listener) {
        told.add("stop");
        listener.onDiscoveryStopped("");
    }

    public void resolveService(NsdServiceInfo info, ResolveListener listener) {
        if (resolving) {
            told.add("two at once");
            listener.onResolveFailed(info, FAILURE_ALREADY_ACTIVE);
            return;
        }
        resolving = true;
        told.add("resolve " + info.getServiceName());
        new Thread(
                        () -> {
                            try {
                                Thread.sleep(50);
                            } catch (InterruptedException ended) {
                                return;
                            }
                            resolving = false;
                            if (info.getHost() == null) {
                                listener.onResolveFailed(info, FAILURE_INTERNAL_ERROR);
                            } else {
                                listener.onServiceResolved(info);
                            }
                        })
                .start();
    }
}
